import type { ConflictKind } from "../../../../shared/plan/plan.ts";
import type { FieldPropertiesDraft, OrderDraft } from "../draft.ts";
import type { ShapeWishes } from "../fieldShapes.ts";

/** A field and its orders that the week was written for. */
export interface DemoCase {
  /** What its orders are meant to show: a conflict, or a limit that leaves them plannable. */
  readonly shows: ConflictKind | "limit";
  readonly shape: Omit<ShapeWishes, "angleRad">;
  readonly field: Pick<FieldPropertiesDraft, "name" | "grower" | "crop" | "slopePct"> & Partial<FieldPropertiesDraft>;
  readonly orders: readonly Omit<OrderDraft, "id" | "fieldId">[];
}

export const plain = (areaHa: number): DemoCase["shape"] => ({ areaHa, holes: 0, parts: 1, pads: 1 });
export const wholeWeek = { earliest: "2027-06-14T00:00", latest: "2027-06-21T00:00" } as const;
