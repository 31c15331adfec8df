import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { type BottleneckRow, bottleneckRow, leftOutCentsPerHa } from "../../shared/cases/bottlenecks.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { type Use, useOf } from "../../shared/plan/use.ts";
import { type WindowDay, windowHours } from "../../shared/plan/windowHours.ts";
import { type Bottlenecks, bottlenecksOf } from "../solver/bottlenecks/bottlenecksOf.ts";
import { knownRoutesOf } from "../solver/bound/knownRoutes.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { prepareOperation, startOf } from "../solver/planOperation.ts";
import { runAgain } from "./runAgain.ts";

export interface FindBottlenecksAsk {
  readonly operation: Operation;
  /** The present plan, which is good. */
  readonly plan: Plan;
  /** For proving a bound. */
  readonly seconds: number;
  /** How many of the units that would bring most are planned again with. */
  readonly tried: number;
  readonly seeds: number;
  readonly iterations: number;
  readonly threads: number;
}

export interface FoundBottlenecks extends Omit<Bottlenecks, "predictions"> {
  readonly use: Use;
  readonly hours: readonly WindowDay[];
  readonly currency: string;
  readonly seeds: number;
  readonly iterations: number;
  readonly centsPerHa: number | null;
  /** What would bring most first. */
  readonly units: readonly BottleneckRow[];
}

/** Units that are estimated, beside those to be tried. Our choice: an estimate takes a second or two of the demo. */
const leastEstimated = 8;

/** Use of everything, what one more of each thing would bring, and what those that would bring most do bring when the week is planned again with them. */
export async function findBottlenecks(
  ask: FindBottlenecksAsk,
  linear: LinearSolver,
  tell: (words: string, share: number) => void,
): Promise<FoundBottlenecks> {
  const { operation, plan, seconds, seeds, iterations } = ask;
  const prepared = prepareOperation(operation);
  const state = startOf(prepared, { from: plan })!;
  tell(`proving a bound for ${seconds} s`, 0);
  const endsMs = performance.now() + 1000 * seconds;
  const { predictions, ...proven } = bottlenecksOf(prepared.problem, {
    solver: linear,
    known: knownRoutesOf(prepared.problem, state),
    shouldStop: () => performance.now() >= endsMs,
    most: Math.max(leastEstimated, ask.tried),
  });
  const tried = predictions.filter(({ atMostCents }) => atMostCents > 0).slice(0, ask.tried);
  const steps = tried.length + 2;
  let step = 1;
  tell(`planning again with ${tried.length} of ${predictions.length} units`, step / steps);
  const [before, ...after] =
    tried.length === 0
      ? []
      : await runAgain(
          { operation, plan, iterations, seeds: Array.from({ length: seeds }, (_, at) => at + 1) },
          [[], ...tried.map(({ unit }) => unit.changes)],
          ask.threads,
          () => tell("planned again", ++step / steps),
        );
  const centsPerHa = leftOutCentsPerHa(operation, plan);
  const units = predictions.map((prediction): BottleneckRow => {
    const at = tried.indexOf(prediction);
    const both = at < 0 || before === undefined ? null : { before, after: after[at]! };
    return bottleneckRow(operation, prediction, centsPerHa, both);
  });
  const hours = windowHours(operation, createAgronomy(operation, createCalendar(operation.settings)), plan);
  const { currency } = operation.settings;
  return { use: useOf(operation, plan), hours, currency, ...proven, seeds, iterations, centsPerHa, units };
}
