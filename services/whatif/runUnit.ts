import { caseOperation } from "../../shared/cases/caseOperation.ts";
import type { CasesFile } from "../../shared/cases/cases.ts";
import { resultOf } from "../../shared/cases/resultOf.ts";
import type { RunOutcome, RunResult } from "../../shared/cases/runResult.ts";
import { pathText, valueText } from "../../shared/model/faults.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { counted } from "../../shared/plan/words.ts";
import type { Season } from "../../shared/season/season.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { type Prepared, planFromSnapshot, prepareOperation, startOf } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { snapshotOf } from "../solver/snapshot.ts";
import { solve } from "../solver/solve.ts";
import { keyOf, type Unit } from "./unit.ts";

export interface UnitMeans {
  readonly operation: Operation;
  /** Null: the operation's own week. */
  readonly season: Season | null;
  readonly budget: CasesFile["budget"];
  readonly linear: LinearSolver;
  /** Since some moment; asked only where the budget is of seconds. */
  readonly seconds: () => number;
}

/** What came of something, or why nothing did, for people. */
type Came<What> = { readonly ok: true; readonly what: What } | { readonly ok: false; readonly message: string };

/** Plans a case in one week with every seed, one after the other; each plan is judged, and what does not come to a good one is told as failed. */
export function runUnit(unit: Unit, means: UnitMeans, tell: (outcome: RunOutcome) => void): void {
  const ready = unlessCrashed(() => prepareUnit(unit, means));
  for (const seed of unit.seeds) {
    const key = keyOf(unit, seed);
    const run = ready.ok ? unlessCrashed(() => planUnit(ready.what, seed, means)) : ready;
    tell(run.ok ? { status: "planned", key, result: run.what } : { status: "failed", key, message: run.message });
  }
}

interface Ready {
  readonly operation: Operation;
  readonly prepared: Prepared;
}

function prepareUnit({ planned, week }: Unit, { operation, season }: UnitMeans): Came<Ready> {
  const sampled =
    week === undefined || season === null ? null : { season, week, random: createRandom(seedOfWeek(week)) };
  const changed = caseOperation(operation, planned.changes, sampled);
  if (changed.ok)
    return { ok: true, what: { operation: changed.operation, prepared: prepareOperation(changed.operation) } };
  const { path, value, expected } = changed.faults[0]!;
  return { ok: false, message: `the case does not hold: ${pathText(path)}: ${valueText(value)}; expected ${expected}` };
}

function planUnit(
  { operation, prepared }: Ready,
  seed: number,
  { budget, linear, seconds }: UnitMeans,
): Came<RunResult> {
  const { problem, agronomy } = prepared;
  const begunS = seconds();
  const doneShare = (iterations: number) =>
    budget.seconds === undefined ? iterations / budget.iterations! : (seconds() - begunS) / budget.seconds;
  const controls = { random: createRandom(seed), doneShare, polish: polishWith(linear, budget.seconds) };
  const { state, iterations } = solve(problem.routes, controls, startOf(prepared, {}));
  const plan = planFromSnapshot(prepared, snapshotOf(problem, state), { seed, iterations }, null);
  const { ok, breaches } = checkPlan(operation, plan);
  if (ok) return { ok: true, what: resultOf(operation, agronomy, plan) };
  const found = counted(breaches.length, "breach", "breaches");
  return { ok: false, message: `the checker found ${found}, the first: ${breaches[0]!.sentence}` };
}

function unlessCrashed<What>(run: () => Came<What>): Came<What> {
  try {
    return run();
  } catch (error) {
    return { ok: false, message: `the planner crashed: ${error instanceof Error ? error.message : String(error)}` };
  }
}

/** Spread numbers, so that weeks are drawn apart from each other. */
function seedOfWeek(week: number): number {
  return Math.imul(week + 1, 0x9e3779b1) >>> 0;
}
