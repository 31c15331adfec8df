import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import type { State } from "../../../services/solver/routes.ts";
import { cannotCents, choose } from "./choose.ts";
import type { Optimum } from "./judge.ts";

/** What is left out of a plan of a small operation, beside the best plan. */
export interface LeftOut {
  readonly block: number;
  /** By how much the best plan that holds the block costs more than the best there is; infinite where no plan holds it. */
  readonly forcedCents: number;
}

/** The value of the blocks that a plan serves, cents. */
export function servedCents({ problem }: Optimum, state: State): number {
  return problem.routes.valueCents.reduce((sum, cents, block) => (state.slotOf[block]! >= 0 ? sum + cents : sum), 0);
}

/** Every block that a plan leaves out, and what it would cost at the least to have it in: by the full model, not by trying. */
export function leftOut({ problem, days, choice }: Optimum, linear: LinearSolver, state: State): LeftOut[] {
  return [...problem.routes.valueCents.keys()]
    .filter((block) => state.slotOf[block]! < 0)
    .map((block) => {
      const { totalCents } = choose(problem, days, linear, { serve: [block] });
      const cannot = totalCents > choice.totalCents + cannotCents / 2;
      return { block, forcedCents: cannot ? Number.POSITIVE_INFINITY : totalCents - choice.totalCents };
    });
}
