import { applyChanges } from "../../shared/cases/applyChanges.ts";
import type { AgainOutcome, PlannedAgain } from "../../shared/cases/bottlenecks.ts";
import type { Change } from "../../shared/cases/change.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { planFromSnapshot, prepareOperation, startOf } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { snapshotOf } from "../solver/snapshot.ts";
import { solve } from "../solver/solve.ts";

export interface AgainAsk {
  readonly operation: Operation;
  /** Where every search begins. */
  readonly plan: Plan;
  readonly seeds: readonly number[];
  readonly iterations: number;
}

/** The operation with some changes planned once more from the present plan, with every seed; every plan is judged. */
export function planAgain(ask: AgainAsk, changes: readonly Change[], linear: LinearSolver): AgainOutcome {
  const outcome =
    changes.length === 0 ? ({ ok: true, operation: ask.operation } as const) : applyChanges(ask.operation, changes);
  if (!outcome.ok) return { ok: false, message: "the operation cannot be changed so" };
  const { operation } = outcome;
  const prepared = prepareOperation(operation);
  const runs: PlannedAgain[] = [];
  for (const seed of ask.seeds) {
    const controls = {
      random: createRandom(seed),
      doneShare: (iterations: number) => iterations / ask.iterations,
      polish: polishWith(linear, undefined),
    };
    const { state, iterations } = solve(prepared.problem.routes, controls, startOf(prepared, { from: ask.plan }));
    const plan = planFromSnapshot(prepared, snapshotOf(prepared.problem, state), { seed, iterations }, null);
    const { ok, breaches } = checkPlan(operation, plan);
    if (!ok)
      return {
        ok: false,
        message: `the checker found ${breaches.length} breaches, the first: ${breaches[0]!.sentence}`,
      };
    runs.push({ seed, totalCents: plan.score.totalCents, servedHa: plan.score.servedHa });
  }
  return { ok: true, runs };
}
