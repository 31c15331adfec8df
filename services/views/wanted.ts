import type { ApplicationRecord } from "../../shared/contracts/applicationRecords.ts";
import type { Publication } from "../../shared/contracts/plans.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { CheckedPlan } from "../../shared/plan/weekView.ts";
import type { UnitSystem } from "../../shared/units/units.ts";
import type { MapFormat } from "../papers/geo/mapFiles.ts";
import type { PaperSize } from "../papers/page/paper.ts";
import type { PaperSource } from "../papers/page/source.ts";
import type { WeekTableName } from "../papers/tables/weekTables.ts";

/** A plan with all that views of it tell. */
export interface Viewed {
  readonly operation: Operation;
  readonly plan: Plan;
  readonly report: CheckedPlan;
}

/** How a paper is to look. */
export interface Look {
  readonly size: PaperSize;
  readonly units: UnitSystem;
}

interface OfDay {
  readonly crewId: string;
  readonly date: string;
}
/** A view names the publication by which it was told, where it was, so that phones know when their day has changed. */
interface Told {
  readonly publication: Publication | null;
}
interface Sourced {
  readonly source: PaperSource;
}

/** What screens wait for: made in tens of milliseconds. */
export type WantedView =
  | { readonly kind: "week" | "weekMap" }
  | ({ readonly kind: "sheet" | "dayMap" } & OfDay & Told)
  | { readonly kind: "days"; readonly crewId: string; readonly publication: Publication };

/** What takes its time, and files. */
export type WantedPaper =
  | { readonly kind: "calm" }
  | ({ readonly kind: "sheetPdf" } & OfDay & Sourced & Look)
  | ({ readonly kind: "dayFile"; readonly format: MapFormat } & OfDay & Sourced)
  | ({ readonly kind: "fieldsFile"; readonly format: MapFormat } & Sourced)
  | ({ readonly kind: "weekPdf" } & Sourced & Look)
  | { readonly kind: "table"; readonly table: WeekTableName }
  | { readonly kind: "calendar"; readonly crewId: string; readonly publication: Publication };

/** Of a plan; which one it is says the question that asks for it. */
export type Wanted = WantedView | WantedPaper;

/** The paper of an application, which is of no plan. */
export interface RecordPaper extends Look {
  readonly told: ApplicationRecord;
}

/** As it goes out; of a file its name, too. */
export interface MadeView {
  readonly bytes: Uint8Array;
  readonly fileName: string | null;
}
