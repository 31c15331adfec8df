import { compileProblem } from "../../../services/solver/compile.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import type { Polish } from "../../../services/solver/polish.ts";
import type { Problem } from "../../../services/solver/problem.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { State } from "../../../services/solver/routes.ts";
import { solve } from "../../../services/solver/solve.ts";
import { totalCents } from "../../../services/solver/state.ts";
import { toPlan } from "../../../services/solver/toPlan.ts";
import { insertWhatStillPays } from "../../../services/solver/topUp.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { type Choice, choose } from "./choose.ts";
import { type EveryDay, everyDay } from "./everyDay.ts";
import type { SetsRule } from "./everyKit.ts";
import { placed } from "./placed.ts";

/** Cents by which two sums over one plan may differ. */
export const roundingCents = 0.01;

export interface Optimum {
  readonly problem: Problem;
  readonly days: EveryDay;
  readonly choice: Choice;
  readonly state: State;
}

export function optimumOf(operation: Operation, linear: LinearSolver, setsRule: SetsRule = "asDealt"): Optimum {
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const days = everyDay(problem, setsRule);
  const choice = choose(problem, days, linear);
  return { problem, days, choice, state: placed(problem, choice.chosen) };
}

export interface Search {
  readonly seed: number;
  readonly iterations: number;
  readonly polish?: Polish;
}

export function searched(problem: Problem, { seed, iterations, polish }: Search): State {
  const { state } = solve(problem.routes, {
    random: createRandom(seed),
    doneShare: (done) => done / iterations,
    ...(polish === undefined ? {} : { polish }),
  });
  insertWhatStillPays(problem, state);
  return state;
}

export interface Judged {
  readonly plan: Plan;
  /** What the checker finds, but for blocks that no conflict names: reasons are not asked for here. */
  readonly breaches: readonly string[];
}

export function judged(problem: Problem, state: State): Judged {
  const { operation } = problem;
  const plan = toPlan(problem, state, [], { seed: 0, iterations: 0 });
  const { breaches } = checkPlan(operation, plan);
  return {
    plan,
    breaches: breaches
      .filter(({ rule }) => rule !== "conflictNamed")
      .map(({ rule, sentence }) => `${rule}: ${sentence}`),
  };
}

/** Slots whose day gains more than any route that was found of the same blocks or fewer: then a route was overlooked. */
export function overlooked({ problem, days }: Optimum, state: State): number[] {
  const { stride, valueCents } = problem.routes;
  return problem.slots.flatMap((_, slot) => {
    const stops = [...state.sequence.subarray(slot * stride, slot * stride + state.count[slot]!)];
    const set = stops.reduce((bits, block) => bits | (1 << block), 0);
    const gainCents = stops.reduce((sum, block) => sum + valueCents[block]!, 0) - state.slotCents[slot]!;
    const isKnown =
      gainCents <= roundingCents ||
      days.routes.some(
        (route) => route.slot === slot && (route.set & ~set) === 0 && route.gainCents >= gainCents - roundingCents,
      );
    return isKnown ? [] : [slot];
  });
}

/** How much dearer a plan is than the best. */
export function dearerCents({ choice }: Optimum, state: State): number {
  return totalCents(state) - choice.totalCents;
}
