import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { PlanBudget } from "../store/store.ts";

export interface ThreadInput {
  readonly operation: Operation;
  readonly budget: PlanBudget;
  readonly seed: number;
  /** One Int32: 1 asks the planner to come to an end with the best plan that it has. */
  readonly stopFlag: SharedArrayBuffer;
}

export type ThreadMessage =
  | { readonly kind: "progress"; readonly progress: PlanProgress }
  | { readonly kind: "planned"; readonly plan: Plan; readonly report: CheckReport };

/** How much of the budget is used; 1 or more ends the planning. */
export function doneShareOf(
  budget: PlanBudget,
  stopFlag: SharedArrayBuffer,
  startMs: number,
): (iterations: number) => number {
  const stop = new Int32Array(stopFlag);
  return (iterations) => {
    if (Atomics.load(stop, 0) === 1) return 1;
    if ("seconds" in budget) return (performance.now() - startMs) / 1000 / budget.seconds;
    return budget.iterations === 0 ? 1 : iterations / budget.iterations;
  };
}
