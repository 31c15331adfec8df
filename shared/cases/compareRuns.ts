import type { Operation } from "../model/operation.ts";
import { groupBy, hoursOf, sumOf } from "../plan/totals.ts";
import { meanOf, standardDeviation } from "../statistics/moments.ts";
import { caseSentence } from "./caseSentence.ts";
import type { CasesFile } from "./cases.ts";
import { changesWords } from "./changeWords.ts";
import { compareCurve } from "./compareCurve.ts";
import { type CaseOutcome, type Comparison, type Difference, type MeasureName, measureNames } from "./comparison.ts";
import { differenceIn, type Pair, type PlannedRun, pairsOf } from "./differenceIn.ts";
import { ownershipOf } from "./ownership.ts";
import { operationOf, type PlannedCase, plannedCases } from "./plannedCases.ts";
import type { Money, RunKey, RunOutcome, RunResult, Used } from "./runResult.ts";
import { calmHoursOf, seasonOf } from "./seasonOutcome.ts";
import { costsOfBuys, costsOfFleet } from "./yearlyCosts.ts";

const measures: Readonly<Record<MeasureName, (result: RunResult) => number>> = {
  servedHa: ({ servedHa }) => servedHa,
  ordersDone: ({ ordersDone }) => ordersDone,
  ordersInTime: ({ ordersInTime }) => ordersInTime,
  roadKm: ({ roadKm }) => roadKm,
  dutyHours: ({ dutyMin }) => hoursOf(dutyMin),
  earnedCents: ({ money }) => money.earnedCents,
  costCents: ({ money }) => money.earnedCents - money.marginCents,
  marginCents: ({ money }) => money.marginCents,
};

/** Half of the last digit that the tables show: what looks like nothing there is no clear difference. */
const leastTold: Readonly<Record<MeasureName, number>> = {
  servedHa: 0.5,
  ordersDone: 0.05,
  ordersInTime: 0.05,
  roadKm: 0.5,
  dutyHours: 0.5,
  earnedCents: 50,
  costCents: 50,
  marginCents: 50,
};

/** All cases of a file beside the operation as it is, from what their runs came to, in whatever order these ended. */
export function compareRuns(operation: Operation, file: CasesFile, outcomes: readonly RunOutcome[]): Comparison {
  const { weeksPerYear, interestPct } = file;
  const runs = outcomes.flatMap((one) => (one.status === "planned" ? [one] : []));
  const failed = outcomes.flatMap((one) => (one.status === "failed" ? [{ key: one.key, message: one.message }] : []));
  const weeks = new Set(outcomes.flatMap(({ key }) => key.week ?? []));
  const [base] = plannedCases(operation, file);
  const runsOf = (caseId: string) => runs.filter(({ key }) => key.caseId === caseId).sort(byKey);
  const baseRuns = runsOf(base!.id);
  return {
    formatVersion: 1,
    operationName: operation.settings.name,
    currency: operation.settings.currency,
    weeksPerYear,
    interestPct,
    seeds: file.seeds,
    weeks: weeks.size === 0 ? null : weeks.size,
    calmHours: calmHoursOf(baseRuns),
    base: {
      ...means(operation, base!, baseRuns),
      differences: null,
      changesNothing: false,
      ownership: null,
      sentence: "As it is.",
    },
    cases: file.cases.map((one): CaseOutcome => {
      const own = runsOf(one.id);
      const pairs = pairsOf(baseRuns, own);
      const compared = {
        ...means(operation, one, own),
        differences: pairs.length === 0 ? null : differences(baseRuns, pairs),
        changesNothing: pairs.length > 0 && pairs.every(([before, after]) => isSame(before.result, after.result)),
      };
      const costs =
        one.buys === undefined
          ? costsOfFleet(operation, operationOf(operation, one))
          : costsOfBuys(one.buys, interestPct);
      const ownership =
        compared.differences === null ? null : ownershipOf(compared.differences.marginCents, costs, file);
      return { ...compared, ownership, sentence: caseSentence(compared, ownership, operation.settings.currency) };
    }),
    curve: file.curve === undefined ? null : compareCurve(operation, file, file.curve, runsOf),
    failed: failed.sort(byKey),
  };
}

function byKey({ key: a }: { readonly key: RunKey }, { key: b }: { readonly key: RunKey }): number {
  return (a.week ?? 0) - (b.week ?? 0) || a.seed - b.seed || (a.caseId < b.caseId ? -1 : a.caseId > b.caseId ? 1 : 0);
}

function differences(baseRuns: readonly PlannedRun[], pairs: readonly Pair[]): Record<MeasureName, Difference> {
  return ofEachMeasure((name) => differenceIn(measures[name], baseRuns, pairs, leastTold[name]));
}

/** Whether a plan brings the same in all that is counted; things that only one of the two has are idle then, and hours that only they could have used do not count. */
function isSame(before: RunResult, after: RunResult): boolean {
  const { used: usedBefore, openHoursPerOrder: _before, ...restBefore } = before;
  const { used: usedAfter, openHoursPerOrder: _after, ...restAfter } = after;
  const busy = (used: readonly Used[]) =>
    used.filter(({ usedMin }) => usedMin > 0).map(({ thing, id, baseId, usedMin }) => [thing, id, baseId, usedMin]);
  return (
    JSON.stringify(restBefore) === JSON.stringify(restAfter) &&
    JSON.stringify(busy(usedBefore)) === JSON.stringify(busy(usedAfter))
  );
}

type Means = Pick<
  CaseOutcome,
  "id" | "name" | "changes" | "runs" | "measures" | "money" | "conflicts" | "used" | "season"
>;

function means(operation: Operation, { id, name, changes }: PlannedCase, runs: readonly PlannedRun[]): Means {
  const results = runs.map(({ result }) => result);
  const first = results[0];
  const words = { id, name, changes: changesWords(operation, changes), runs: runs.length };
  if (first === undefined) return { ...words, measures: null, money: null, conflicts: [], used: [], season: null };
  const mean = (of: (result: RunResult) => number) => meanOf(results.map(of));
  const moneyOf = (part: keyof Money) => mean(({ money }) => money[part]);
  const parts = Object.keys(first.money) as (keyof Money)[];
  const conflicts = results.flatMap((result) => result.conflicts);
  return {
    ...words,
    measures: ofEachMeasure((measure) => {
      const values = results.map(measures[measure]);
      return { mean: meanOf(values), deviation: standardDeviation(values) };
    }),
    money: Object.fromEntries(parts.map((part) => [part, moneyOf(part)])) as Money,
    conflicts: [...groupBy(conflicts, ({ kind }) => kind)]
      .map(([kind, own]) => ({
        kind,
        orders: sumOf(own, ({ orders }) => orders) / results.length,
        areaHa: sumOf(own, ({ areaHa }) => areaHa) / results.length,
      }))
      .sort((a, b) => b.areaHa - a.areaHa || (a.kind < b.kind ? -1 : 1)),
    season: seasonOf(runs),
    used: first.used.map((thing) => {
      const own = results.flatMap(({ used }) =>
        used.filter((one) => one.thing === thing.thing && one.id === thing.id && one.baseId === thing.baseId),
      );
      return {
        ...thing,
        thereMin: meanOf(own.map(({ thereMin }) => thereMin)),
        usedMin: meanOf(own.map(({ usedMin }) => usedMin)),
      };
    }),
  };
}

function ofEachMeasure<Value>(of: (name: MeasureName) => Value): Record<MeasureName, Value> {
  return Object.fromEntries(measureNames.map((name) => [name, of(name)])) as Record<MeasureName, Value>;
}
