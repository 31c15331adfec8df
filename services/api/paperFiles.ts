import type { Operation } from "../../shared/model/operation.ts";
import { crewSheet } from "../../shared/plan/crewSheet.ts";
import { dayMap } from "../../shared/plan/dayMap.ts";
import type { Measures } from "../../shared/plan/measures.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { weekMap } from "../../shared/plan/weekMap.ts";
import { type CheckedPlan, weekView } from "../../shared/plan/weekView.ts";
import { fileName } from "../papers/fileName.ts";
import { dayMapDocument, type MapFormat, mapFormats, weekMapDocument } from "../papers/geo/mapFiles.ts";
import type { PaperSize } from "../papers/page/paper.ts";
import type { PaperSource } from "../papers/page/source.ts";
import { crewDayPdf } from "../papers/sheet/crewDayPdf.ts";
import { type WeekTableName, weekTables } from "../papers/tables/weekTables.ts";
import { weekPdf } from "../papers/week/weekPdf.ts";
import { FileBody } from "./viewCache.ts";

/** How a paper is to look. */
export interface Look {
  readonly size: PaperSize;
  readonly measures: Measures;
}

/** A plan with the operation that it is of. */
export interface Planned {
  readonly operation: Operation;
  readonly plan: Plan;
}

/** Null where the crew does not go out that day. */
export async function sheetFile(
  { operation, plan }: Planned,
  crewId: string,
  date: string,
  source: PaperSource,
  look: Look,
) {
  const sheet = crewSheet(operation, plan, crewId, date, look.measures);
  const map = dayMap(operation, plan, crewId, date);
  if (sheet === null || map === null) return null;
  const name = fileName([sheet.crewName, date], "pdf");
  return new FileBody(await crewDayPdf({ sheet, map, source, ...look }), name);
}

/** Null where the crew does not go out that day. */
export function dayMapFile(
  { operation, plan }: Planned,
  crewId: string,
  date: string,
  source: PaperSource,
  format: MapFormat,
) {
  const map = dayMap(operation, plan, crewId, date);
  if (map === null) return null;
  const crewName = operation.fleet.crews.find(({ id }) => id === crewId)!.name;
  const text = mapFormats[format].write(dayMapDocument(map, crewName, source));
  return new FileBody(Buffer.from(text), fileName([crewName, date], format));
}

export function fieldsFile({ operation, plan }: Planned, source: PaperSource, format: MapFormat) {
  const { name, firstDay } = operation.settings;
  const text = mapFormats[format].write(weekMapDocument(weekMap(operation, plan), name, source));
  return new FileBody(Buffer.from(text), fileName([name, firstDay], format));
}

export async function weekFile({ operation, plan }: Planned, report: CheckedPlan, source: PaperSource, look: Look) {
  const { name, firstDay } = operation.settings;
  const view = weekView(operation, plan, report);
  return new FileBody(await weekPdf({ view, source, ...look }), fileName([name, firstDay], "pdf"));
}

export function tableFile({ operation, plan }: Planned, report: CheckedPlan, table: WeekTableName) {
  const { name, firstDay } = operation.settings;
  const text = weekTables[table](weekView(operation, plan, report));
  return new FileBody(Buffer.from(text), fileName([name, firstDay, table], "csv"));
}
