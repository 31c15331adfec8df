import { loadScenario } from "../../services/cli/output.ts";
import { loadHighs } from "../../services/linear/highs.ts";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { bottlenecksOf } from "../../services/solver/bottlenecks/bottlenecksOf.ts";
import { knownRoutesOf } from "../../services/solver/bound/knownRoutes.ts";
import type { LinearSolver } from "../../services/solver/linear/solver.ts";
import { planOperation, prepareOperation, startOf } from "../../services/solver/planOperation.ts";
import { polishWith } from "../../services/solver/polish.ts";
import { createRandom } from "../../services/solver/random.ts";
import { planAgain } from "../../services/whatif/planAgain.ts";
import { type BottleneckRow, bottleneckRow } from "../../shared/cases/bottlenecks.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { median } from "./measure.ts";
import { rankCorrelation } from "./worth/rankCorrelation.ts";

export interface WorthOptions {
  /** Generated operations beside the demo. */
  readonly operations: number;
  /** Seconds of the processor for each bound. */
  readonly seconds: number;
  /** Units of each that are planned again with. */
  readonly tried: number;
  readonly seeds: number;
  readonly iterations: number;
}

/** Iterations of the plan that all searches begin with, beside theirs: what a search still finds without any unit is not to hide what it finds with one. Our choice. */
const planTimes = 3;

/** A difference that is told as an error: the smaller ones are nothing to divide by. */
const leastCents = 1000;

/** What one more of a thing would bring by the linear relaxation, beside what it brings when planned again. False when a search with a unit could not be made. */
export async function benchWorth(options: WorthOptions): Promise<boolean> {
  const linear = await loadHighs();
  const all: BottleneckRow[] = [];
  console.log(
    `cents of the currency over 100; realised: mean of ${options.seeds} searches of ${options.iterations} iterations from the plan; * clear`,
  );
  console.log("                at most    about  realised  one more");
  const operations: [string, Operation][] = [["demo", await loadScenario("scenarios/demo")]];
  for (let seed = 1; seed <= options.operations; seed++)
    operations.push([`seed ${seed}`, generateOperation({ orders: 30, crews: 3, days: 3, seed })]);
  for (const [name, operation] of operations) {
    const rows = rowsOf(operation, linear, options);
    for (const { atMostCents, aboutCents, realised, words, failed } of rows) {
      const money = (cents: number | null) => (cents === null ? "-" : (cents / 100).toFixed(0)).padStart(9);
      const brought = failed ?? `${money(realised!.cents.mean)}${realised!.isClear ? "*" : " "}`;
      console.log(`${name.padEnd(14)}${money(atMostCents)}${money(aboutCents)} ${brought} ${words}`);
    }
    all.push(...rows);
  }
  const known = all.filter((row) => row.realised !== null && row.aboutCents !== null);
  summary("all units tried", known);
  summary(
    "those with a clear difference",
    known.filter(({ realised }) => realised!.isClear),
  );
  const failed = all.filter((row) => row.failed !== null).length;
  console.log(failed === 0 ? "every unit could be planned with" : `${failed} UNITS COULD NOT BE PLANNED WITH`);
  return failed === 0;
}

function rowsOf(operation: Operation, linear: LinearSolver, { seconds, tried, seeds, iterations }: WorthOptions) {
  const plan = planOperation(operation, {
    seed: 1,
    random: createRandom(1),
    doneShare: (done) => done / (planTimes * iterations),
    polish: polishWith(linear, undefined),
  });
  const prepared = prepareOperation(operation);
  const startedS = cpuS();
  const { predictions } = bottlenecksOf(prepared.problem, {
    solver: linear,
    known: knownRoutesOf(prepared.problem, startOf(prepared, { from: plan })!),
    shouldStop: () => cpuS() - startedS > seconds,
    most: tried,
  });
  const ask = { operation, plan, iterations, seeds: Array.from({ length: seeds }, (_, at) => at + 1) };
  const before = planAgain(ask, [], linear);
  return predictions.slice(0, tried).map((prediction) => {
    const after = planAgain(ask, prediction.unit.changes, linear);
    return bottleneckRow(operation, prediction, null, { before, after });
  });
}

function summary(name: string, rows: readonly BottleneckRow[]): void {
  const pairs = rows.map(({ aboutCents, atMostCents, realised }) => ({
    about: aboutCents!,
    most: atMostCents,
    real: realised!.cents.mean,
  }));
  if (pairs.length < 3) {
    console.log(`${name}: ${pairs.length}, too few to compare`);
    return;
  }
  const large = pairs.filter(({ about, real }) => Math.max(about, Math.abs(real)) >= leastCents);
  const errors = large.map(({ about, real }) => Math.abs(about - real) / Math.max(about, Math.abs(real)));
  const meanPct = (100 * errors.reduce((sum, error) => sum + error, 0)) / errors.length;
  const sum = (of: (pair: (typeof pairs)[number]) => number) =>
    (pairs.reduce((total, pair) => total + of(pair), 0) / 100).toFixed(0);
  console.log(
    `${name}: ${pairs.length}; in all at most ${sum(({ most }) => most)}, about ${sum(({ about }) => about)}, realised ${sum(({ real }) => real)}; error of about, by the larger of both, mean ${meanPct.toFixed(0)} %, median ${(100 * median(errors)).toFixed(0)} % (${errors.length} of 10 and more); rank correlation ${rankCorrelation(
      pairs.map(({ about }) => about),
      pairs.map(({ real }) => real),
    ).toFixed(2)}, of at most ${rankCorrelation(
      pairs.map(({ most }) => most),
      pairs.map(({ real }) => real),
    ).toFixed(2)}`,
  );
}

function cpuS(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}
