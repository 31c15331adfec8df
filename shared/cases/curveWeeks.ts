import { groupBy } from "../plan/totals.ts";
import { meanOf } from "../statistics/moments.ts";
import type { CurvePointOutcome } from "./comparison.ts";
import type { Pair, PlannedRun } from "./differenceIn.ts";
import { quantilesOf } from "./quantilesOf.ts";

const margin = ({ result }: PlannedRun) => result.money.marginCents;

/** How much sampled weeks differ at a point of a curve, as amounts a year were all of its weeks like one of them; of a week that was planned with several seeds their mean. */
export function curveWeeks(
  runs: readonly PlannedRun[],
  pairs: readonly Pair[],
  weeksPerYear: number,
  ownershipCentsPerYear: number,
): CurvePointOutcome["weeks"] {
  const margins = ofWeeks(runs, ({ key }) => key.week, margin);
  if (margins.length === 0) return null;
  const next = ofWeeks(
    pairs,
    ([, { key }]) => key.week,
    ([before, after]) => margin(after) - margin(before),
  );
  const perYear = (centsPerWeek: number) => centsPerWeek * weeksPerYear;
  return {
    marginCentsPerYear: quantilesOf(margins.map(perYear)),
    nextCentsPerYear: next.length === 0 ? null : quantilesOf(next.map(perYear)),
    nextPaysFrac:
      next.length === 0 ? null : meanOf(next.map((cents) => (perYear(cents) > ownershipCentsPerYear ? 1 : 0))),
  };
}

function ofWeeks<Run>(
  runs: readonly Run[],
  weekOf: (run: Run) => number | undefined,
  of: (run: Run) => number,
): number[] {
  return [...groupBy(runs, weekOf)].flatMap(([week, own]) => (week === undefined ? [] : [meanOf(own.map(of))]));
}
