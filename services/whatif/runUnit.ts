import { caseOperation } from "../../shared/cases/caseOperation.ts";
import type { CasesFile } from "../../shared/cases/cases.ts";
import type { Change } from "../../shared/cases/change.ts";
import { resultOf } from "../../shared/cases/resultOf.ts";
import type { RunOutcome, RunResult } from "../../shared/cases/runResult.ts";
import { pathText, valueText } from "../../shared/model/faults.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { counted } from "../../shared/plan/words.ts";
import type { Season } from "../../shared/season/season.ts";
import { seedOfSample } from "../../shared/season/seedOfSample.ts";
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

interface Ready {
  readonly operation: Operation;
  readonly prepared: Prepared;
}

interface Start {
  readonly week: number | undefined;
  readonly ready: Came<Ready>;
  /** By seed. */
  readonly plans: Map<number, Plan>;
}

/**
 * Plans cases in their weeks with every seed, one after the other; each plan is judged, and what does not come to a good one is told as failed. First the operation is planned as it is, from
 * nothing; from that plan every case is searched on by the same stop rule, the base too, so that what differs at the end comes from the change and not from where a search happened to go.
 */
export function createUnitRunner(means: UnitMeans): (unit: Unit, tell: (outcome: RunOutcome) => void) => void {
  let start: Start | null = null;

  /** The operation as it is, of the last week that was asked for. */
  const startOfWeek = (week: number | undefined): Start => {
    if (start?.week === week && start !== null) return start;
    start = { week, ready: unlessCrashed(() => prepareUnit([], week, means)), plans: new Map() };
    return start;
  };
  const planToStartFrom = ({ ready, plans }: Start, seed: number): Came<Plan> => {
    if (!ready.ok) return ready;
    const known = plans.get(seed);
    if (known !== undefined) return { ok: true, what: known };
    const plan = search(ready.what, seed, means);
    plans.set(seed, plan);
    return { ok: true, what: plan };
  };
  const runOne = (ready: Came<Ready>, own: Start, seed: number): Came<RunResult> => {
    if (!ready.ok) return ready;
    const from = planToStartFrom(own, seed);
    return from.ok ? judged(ready.what, search(ready.what, seed, means, from.what)) : from;
  };

  return (unit, tell) => {
    const { changes } = unit.planned;
    const own = startOfWeek(unit.week);
    const ready = changes.length === 0 ? own.ready : unlessCrashed(() => prepareUnit(changes, unit.week, means));
    for (const seed of unit.seeds) {
      const key = keyOf(unit, seed);
      const run = unlessCrashed(() => runOne(ready, own, seed));
      tell(run.ok ? { status: "planned", key, result: run.what } : { status: "failed", key, message: run.message });
    }
  };
}

function prepareUnit(
  changes: readonly Change[],
  week: number | undefined,
  { operation, season }: UnitMeans,
): Came<Ready> {
  const sampled =
    week === undefined || season === null ? null : { season, week, random: createRandom(seedOfSample(week)) };
  const changed = caseOperation(operation, changes, sampled);
  if (changed.ok)
    return { ok: true, what: { operation: changed.operation, prepared: prepareOperation(changed.operation) } };
  const { path, value, expected } = changed.faults[0]!;
  return { ok: false, message: `the case does not hold: ${pathText(path)}: ${valueText(value)}; expected ${expected}` };
}

function search({ prepared }: Ready, seed: number, { budget, linear, seconds }: UnitMeans, from?: Plan): Plan {
  const { problem } = prepared;
  const begunS = seconds();
  const doneShare = (iterations: number) =>
    budget.seconds === undefined ? iterations / budget.iterations! : (seconds() - begunS) / budget.seconds;
  const controls = { random: createRandom(seed), doneShare, polish: polishWith(linear, budget.seconds) };
  const { state, iterations } = solve(problem.routes, controls, startOf(prepared, from === undefined ? {} : { from }));
  return planFromSnapshot(prepared, snapshotOf(problem, state), { seed, iterations }, null);
}

function judged({ operation, prepared }: Ready, plan: Plan): Came<RunResult> {
  const { ok, breaches } = checkPlan(operation, plan);
  if (ok) return { ok: true, what: resultOf(operation, prepared.agronomy, plan) };
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
