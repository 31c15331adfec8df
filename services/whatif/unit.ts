import type { PlannedCase } from "../../shared/cases/plannedCases.ts";
import type { RunKey } from "../../shared/cases/runResult.ts";

/** A case in one week: it is compiled once for all seeds. */
export interface Unit {
  readonly planned: PlannedCase;
  /** Left out: the operation's own week. */
  readonly week?: number;
  readonly seeds: readonly number[];
}

export function keyOf({ planned, week }: Unit, seed: number): RunKey {
  return { caseId: planned.id, seed, ...(week === undefined ? {} : { week }) };
}
