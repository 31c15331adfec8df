import { loadScenario } from "../../services/cli/output.ts";
import { loadHighs } from "../../services/linear/highs.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { boundApplies } from "../../services/solver/bound/boundApplies.ts";
import { type Bound, boundOf } from "../../services/solver/bound/boundOf.ts";
import { type KnownRoute, knownRoutesOf } from "../../services/solver/bound/knownRoutes.ts";
import { compileProblem } from "../../services/solver/compile.ts";
import type { LinearSolver } from "../../services/solver/linear/solver.ts";
import { polishWith } from "../../services/solver/polish.ts";
import type { Problem } from "../../services/solver/problem.ts";
import { createRandom } from "../../services/solver/random.ts";
import { solve } from "../../services/solver/solve.ts";
import { totalCents } from "../../services/solver/state.ts";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { contestedOperation } from "../support/exact/contestedOperation.ts";
import { optimumOf } from "../support/exact/judge.ts";
import { ordersPerCrew } from "./weeks/runWeek.ts";

export interface BoundOptions {
  readonly seeds: number;
  /** Of the processor, for each bound and each search. */
  readonly seconds: number;
  readonly orders: readonly number[];
}

/** When a bound is told, beside the end. */
const toldS = 10;

/** What no plan costs less than, beside the best plan: known exactly for small operations, else what the search finds. Fails where a bound is above a plan. */
export async function benchBound({ seeds, seconds, orders }: BoundOptions): Promise<boolean> {
  const linear = await loadHighs();
  let isTrue = true;
  if (seeds > 0) {
    console.log("small operations of which the best plan is known; seconds are the processor's");
    console.log("    seed       best      bound   gap %    seconds  roster");
  }
  const gaps: number[] = [];
  for (let seed = 1; seed <= seeds; seed++) {
    const { operation, roster } = contestedOperation(seed);
    const { problem, choice } = optimumOf(operation, linear, "any");
    const run = boundFor(problem, linear, [], seconds);
    isTrue &&= told(problem, run.bound, choice.totalCents);
    if (run.bound.cents !== null) gaps.push(gapPct(choice.totalCents, run.bound.cents));
    console.log(
      [String(seed).padStart(8), row(choice.totalCents, run.bound), run.seconds.toFixed(1).padStart(11)].join("") +
        `  ${roster.name}`,
    );
  }
  if (gaps.length > 0) {
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
    console.log(`${gaps.length} of ${seeds} bounds; gap ${mean.toFixed(1)} % on average`);
  }

  console.log(`\nweeks: the plan of a search of ${seconds} s, and the bound that is given its crew-days to start from`);
  console.log("             week      after       plan      bound   gap %  method, finished");
  const demo = await loadScenario("scenarios/demo");
  const weeks = orders.map(
    (count) =>
      [
        `${count} orders`,
        generateOperation({ orders: count, crews: Math.max(1, Math.round(count / ordersPerCrew)), days: 7, seed: 1 }),
      ] as const,
  );
  for (const [name, operation] of [["demo", demo] as const, ...weeks]) {
    const problem = compiled(operation);
    const startedS = cpuS();
    const { state } = solve(problem.routes, {
      random: createRandom(1),
      doneShare: () => (cpuS() - startedS) / seconds,
      polish: polishWith(linear, seconds),
    });
    const planCents = totalCents(state);
    const { bound, soon, seconds: tookS } = boundFor(problem, linear, knownRoutesOf(problem, state), seconds);
    isTrue &&= told(problem, bound, planCents);
    if (soon !== null && tookS > toldS)
      console.log(weekRow(name, toldS, planCents, { ...bound, cents: soon, isFinished: false }));
    console.log(weekRow(name, tookS, planCents, bound));
  }
  console.log(isTrue ? "no bound is above a plan" : "A BOUND IS ABOVE A PLAN");
  return isTrue;
}

function compiled(operation: Operation): Problem {
  const calendar = createCalendar(operation.settings);
  return compileProblem(operation, calendar, createAgronomy(operation, calendar));
}

interface Run {
  readonly bound: Bound;
  /** What was proven after `toldS` seconds. */
  readonly soon: number | null;
  readonly seconds: number;
}

function boundFor(problem: Problem, solver: LinearSolver, known: readonly KnownRoute[], seconds: number): Run {
  const startedS = cpuS();
  let soon: number | null = null;
  const bound = boundOf(problem, {
    solver,
    known: () => known,
    shouldStop: () => cpuS() - startedS > seconds,
    onBetter: (cents) => {
      if (cpuS() - startedS <= toldS) soon = cents;
    },
  });
  return { bound, soon, seconds: cpuS() - startedS };
}

function cpuS(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** A score's seven and more parts are each rounded to a cent: the bound allows for it. */
function told(problem: Problem, { cents }: Bound, planCents: number): boolean {
  const against = boundApplies(problem);
  if (against !== null) console.log(`no bound is claimed: it does not cover ${against}`);
  return cents === null || cents <= planCents;
}

function gapPct(planCents: number, boundCents: number): number {
  return 100 * (planCents / boundCents - 1);
}

function row(planCents: number, { cents }: Bound): string {
  return [
    (planCents / 100).toFixed(0).padStart(11),
    (cents === null ? "none" : (cents / 100).toFixed(0)).padStart(11),
    (cents === null ? "" : gapPct(planCents, cents).toFixed(1)).padStart(8),
  ].join("");
}

function weekRow(name: string, afterS: number, planCents: number, bound: Bound): string {
  const { method, isFinished } = bound;
  return `${name.padStart(17)}${`${afterS.toFixed(0)} s`.padStart(11)}${row(planCents, bound)}  ${method}, ${isFinished ? "finished" : "not finished"}`;
}
