import { groupBy } from "../plan/totals.ts";
import { meanOf } from "../statistics/moments.ts";
import { isClear, pairedDifference, spreadWithin } from "../statistics/pairs.ts";
import type { Difference } from "./comparison.ts";
import type { RunKey, RunResult } from "./runResult.ts";

export interface PlannedRun {
  readonly key: RunKey;
  readonly result: RunResult;
}

export type Pair = readonly [before: PlannedRun, after: PlannedRun];

/** Runs of the same week with the same seed. */
export function pairsOf(before: readonly PlannedRun[], after: readonly PlannedRun[]): Pair[] {
  return before.flatMap((one): Pair[] => {
    const other = after.find(({ key }) => key.week === one.key.week && key.seed === one.key.seed);
    return other === undefined ? [] : [[one, other]];
  });
}

/**
 * Weeks are drawn, seeds only say how well a plan was searched for: over sampled weeks a week is one difference, the mean over its seeds; in a single week each seed is one. The spread
 * is that of the base from seed to seed within weeks. A mean of less than `least` is rounding, as of blocks that are cut otherwise: never clear.
 */
export function differenceIn(
  measure: (result: RunResult) => number,
  baseRuns: readonly PlannedRun[],
  pairs: readonly Pair[],
  least = 0,
): Difference {
  const ofUnits = groupBy(pairs, ([{ key }]) => (key.week === undefined ? `seed ${key.seed}` : `week ${key.week}`));
  const difference = pairedDifference(
    [...ofUnits.values()].map((unit) =>
      meanOf(unit.map(([before, after]) => measure(after.result) - measure(before.result))),
    ),
  );
  const ofWeeks = groupBy(baseRuns, ({ key }) => key.week);
  const spread = spreadWithin([...ofWeeks.values()].map((week) => week.map(({ result }) => measure(result))));
  return {
    pairs: difference.pairs,
    mean: difference.mean,
    interval95: difference.interval95 === null ? null : [...difference.interval95],
    isClear: isClear(difference, spread, least),
  };
}
