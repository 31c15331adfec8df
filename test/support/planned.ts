import { expect } from "vitest";
import { type PlanControls, planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";

/** The plan of a search of so many iterations, none for the first plan, in which the checker finds nothing. */
export function planned(operation: Operation, iterations: number, controls: Partial<PlanControls> = {}): Plan {
  const { seed = 1 } = controls;
  const plan = planOperation(operation, {
    seed,
    random: createRandom(seed),
    doneShare: (done) => (iterations === 0 ? 1 : done / iterations),
    ...controls,
  });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  return plan;
}
