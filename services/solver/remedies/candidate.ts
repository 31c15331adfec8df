import type { RemedyChange } from "../../../shared/cases/remedyChange.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import type { ConflictGroup } from "./groups.ts";

/** A change that may help, not tried yet. */
export interface Candidate {
  readonly change: RemedyChange;
  readonly askGrower: boolean;
}

/** What candidates are found from. */
export interface Wanting {
  readonly operation: Operation;
  readonly plan: Plan;
  readonly group: ConflictGroup;
  /** The group's orders. */
  readonly orders: readonly Order[];
}

export const byOffice = (change: RemedyChange): Candidate => ({ change, askGrower: false });
export const byGrower = (change: RemedyChange): Candidate => ({ change, askGrower: true });
