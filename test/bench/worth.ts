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
import type { UnitKind } from "../../shared/cases/units.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { agreement } from "./worth/agreement.ts";
import { exactPairs, type Pair } from "./worth/exactWorth.ts";

export interface WorthOptions {
  /** Small operations whose best plans are known. */
  readonly exact: number;
  /** Generated operations beside the demo. */
  readonly operations: number;
  /** Seconds of the processor for each bound. */
  readonly seconds: number;
  /** Units of each that are planned again with. */
  readonly tried: number;
  readonly seeds: number;
  readonly iterations: number;
}

const ofCrews: ReadonlySet<UnitKind> = new Set(["hourLater", "hourEarlier", "dayWorked", "dutyHour"]);

/** Iterations of the plan that all searches begin with, beside theirs: what a search still finds without any unit is not to hide what it finds with one. Our choice. */
const planTimes = 3;

/** What one more of a thing would bring by the linear relaxation, beside what it brings when planned again. False when a search with a unit could not be made, or a unit brings more than is proven to be the most. */
export async function benchWorth(options: WorthOptions): Promise<boolean> {
  const linear = await loadHighs();
  let untrue = 0;
  const exact: Pair[] = [];
  for (let seed = 1; seed <= options.exact; seed++) {
    const told = exactPairs(seed, linear);
    exact.push(...told.pairs);
    untrue += told.untrue;
  }
  console.log(
    `${options.exact} small operations, whose best plans are known with and without each unit; money in whole units`,
  );
  console.log(agreement("  all units", exact));
  console.log(
    agreement(
      "  hours and days of a crew",
      exact.filter(({ kind }) => ofCrews.has(kind)),
    ),
  );
  console.log(
    agreement(
      "  things",
      exact.filter(({ kind }) => !ofCrews.has(kind)),
    ),
  );
  console.log(`  ${untrue === 0 ? "no unit" : `${untrue} UNITS`} brought more than is proven to be the most\n`);
  const all: BottleneckRow[] = [];
  console.log(
    `weeks, money in whole units of the currency; realised: mean of ${options.seeds} searches of ${options.iterations} iterations from the plan; * clear`,
  );
  console.log("                at most    about  realised  one more");
  const operations: [string, Operation][] = [["demo", await loadScenario("scenarios/demo")]];
  for (let seed = 1; seed <= options.operations; seed++)
    operations.push([`seed ${seed}`, generateOperation({ orders: 24, crews: 3, days: 2, seed })]);
  for (const [name, operation] of operations) {
    const rows = rowsOf(operation, linear, options);
    for (const { atMostCents, aboutCents, realised, words, failed } of rows) {
      const money = (cents: number | null) => (cents === null ? "-" : (cents / 100).toFixed(0)).padStart(9);
      const brought = failed ?? `${money(realised!.cents.mean)}${realised!.isClear ? "*" : " "}`;
      console.log(`${name.padEnd(14)}${money(atMostCents)}${money(aboutCents)} ${brought} ${words}`);
    }
    all.push(...rows);
  }
  const pairs = all.flatMap(({ kind, atMostCents, aboutCents, realised }) =>
    realised === null || aboutCents === null
      ? []
      : [{ kind, mostCents: atMostCents, aboutCents, broughtCents: realised.cents.mean, isClear: realised.isClear }],
  );
  console.log(agreement("all units tried", pairs));
  console.log(
    agreement(
      "those with a clear difference",
      pairs.filter(({ isClear }) => isClear),
    ),
  );
  const failed = all.filter((row) => row.failed !== null).length;
  console.log(failed === 0 ? "every unit could be planned with" : `${failed} UNITS COULD NOT BE PLANNED WITH`);
  return failed === 0 && untrue === 0;
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

function cpuS(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}
