import { availableParallelism } from "node:os";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { type BottleneckRow, bottleneckRow, leftOutCentsPerHa } from "../../shared/cases/bottlenecks.ts";
import { bottlenecksText } from "../../shared/cases/bottlenecksText.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { useOf } from "../../shared/plan/use.ts";
import { useText } from "../../shared/plan/useText.ts";
import { windowHours } from "../../shared/plan/windowHours.ts";
import { loadHighs } from "../linear/highs.ts";
import { bottlenecksOf } from "../solver/bottlenecks/bottlenecksOf.ts";
import { knownRoutesOf } from "../solver/bound/knownRoutes.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { planOperation, prepareOperation, startOf } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { runAgain } from "../whatif/runAgain.ts";
import { BadInput, exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { readPlan } from "./plan/readPlan.ts";

export interface BottlenecksOptions {
  readonly plan?: string;
  readonly seconds: number;
  readonly try: number;
  readonly seeds: number;
  readonly iterations: number;
  readonly threads?: number;
  readonly json?: boolean;
}

/** Each holds the operation and a compiled problem. Our choice. */
const mostThreads = 4;
/** Units that are estimated, beside those to be tried. Our choice: an estimate takes a second or two of the demo. */
const leastEstimated = 8;

export async function bottlenecksVerb(dir: string, options: BottlenecksOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const linear = await loadHighs();
  const plan = await presentPlan(operation, linear, dir, options);
  const { settings } = operation;
  const use = useOf(operation, plan);
  const hours = windowHours(operation, createAgronomy(operation, createCalendar(settings)), plan);
  const tell = talker();

  const prepared = prepareOperation(operation);
  const state = startOf(prepared, { from: plan })!;
  tell(`proving a bound for ${options.seconds} s`);
  const { method, boundCents, leavesOut, predictions } = bottlenecksOf(prepared.problem, {
    solver: linear,
    known: knownRoutesOf(prepared.problem, state),
    shouldStop: clockOf(options.seconds),
    most: Math.max(leastEstimated, options.try),
  });
  const tried = predictions.filter(({ atMostCents }) => atMostCents > 0).slice(0, options.try);
  tell(`planning again with ${tried.length} of ${predictions.length} units`);
  const { seeds, iterations } = options;
  const [before, ...after] =
    tried.length === 0
      ? []
      : await runAgain(
          { operation, plan, iterations, seeds: Array.from({ length: seeds }, (_, at) => at + 1) },
          [[], ...tried.map(({ unit }) => unit.changes)],
          options.threads ?? Math.min(mostThreads, availableParallelism()),
          () => tell("planned again"),
        );
  const centsPerHa = leftOutCentsPerHa(operation, plan);
  const rows = predictions.map((prediction): BottleneckRow => {
    const at = tried.indexOf(prediction);
    return bottleneckRow(
      operation,
      prediction,
      centsPerHa,
      at < 0 || before === undefined ? null : { before, after: after[at]! },
    );
  });
  const notes = { currency: settings.currency, method, boundCents, leavesOut, seeds, iterations };
  if (options.json) printJson({ use, hours, ...notes, centsPerHa, units: rows });
  else print([...useText(use, hours), "", ...bottlenecksText(rows, notes)].join("\n"));
  return exitCodes.good;
}

/** The plan in the file, which has to be good, or one that is searched for now. */
async function presentPlan(
  operation: Operation,
  linear: LinearSolver,
  dir: string,
  { plan: file, seconds }: BottlenecksOptions,
): Promise<Plan> {
  const plan =
    file === undefined
      ? planOperation(operation, {
          seed: 1,
          random: createRandom(1),
          doneShare: shareOf(seconds),
          polish: polishWith(linear, seconds),
        })
      : await readPlan(file);
  const { ok, breaches } = checkPlan(operation, plan);
  if (ok) return plan;
  throw new BadInput([
    `${file ?? "the plan that was found"} breaks ${breaches.length} rules${file === undefined ? "" : `; see: check ${dir} ${file}`}`,
  ]);
}

function shareOf(seconds: number): () => number {
  const startedMs = performance.now();
  return () => (performance.now() - startedMs) / (1000 * seconds);
}

function clockOf(seconds: number): () => boolean {
  const share = shareOf(seconds);
  return () => share() >= 1;
}

function talker(): (words: string) => void {
  const startedMs = performance.now();
  return (words) => remark(`${((performance.now() - startedMs) / 1000).toFixed(1)} s: ${words}`);
}
