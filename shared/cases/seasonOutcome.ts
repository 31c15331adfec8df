import { groupBy } from "../plan/totals.ts";
import { meanOf } from "../statistics/moments.ts";
import type { Comparison, SeasonOutcome } from "./comparison.ts";
import type { PlannedRun } from "./differenceIn.ts";
import { quantilesOf } from "./quantilesOf.ts";
import type { RunResult } from "./runResult.ts";

/** Over sampled weeks; of a week that was planned with several seeds their mean. */
export function seasonOf(runs: readonly PlannedRun[]): SeasonOutcome | null {
  const weeks = [...groupBy(runs, ({ key }) => key.week)].flatMap(([week, own]) => (week === undefined ? [] : [own]));
  if (weeks.length === 0) return null;
  const ofWeeks = (of: (result: RunResult) => number) =>
    weeks.map((own) => meanOf(own.map(({ result }) => of(result))));
  const doHoursSuffice = ({ conflicts }: RunResult) => conflicts.every(({ kind }) => kind !== "notEnoughHours");
  return {
    servedHa: quantilesOf(ofWeeks(({ servedHa }) => servedHa)),
    allDoneFrac: meanOf(ofWeeks(({ orders, ordersDone }) => (ordersDone === orders ? 1 : 0))),
    hoursSufficeFrac: meanOf(ofWeeks((result) => (doHoursSuffice(result) ? 1 : 0))),
  };
}

const monthLength = "2027-06".length;

/** A week belongs to the month of its first day. */
export function calmHoursOf(runs: readonly PlannedRun[]): Comparison["calmHours"] {
  const sampled = runs.filter(({ key }) => key.week !== undefined);
  const months = groupBy(sampled, ({ result }) => result.firstDay.slice(0, monthLength));
  return [...months]
    .map(([month, own]) => ({
      month,
      weeks: new Set(own.map(({ key }) => key.week)).size,
      hoursPerWeek: meanOf(own.map(({ result }) => result.openHoursPerOrder)),
    }))
    .sort((a, b) => (a.month < b.month ? -1 : 1));
}
