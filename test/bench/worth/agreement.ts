import { median } from "../measure.ts";
import type { Pair } from "./exactWorth.ts";
import { rankCorrelation } from "./rankCorrelation.ts";

/** Smaller ones are nothing to divide by. */
const leastCents = 1000;

/** One line: sums, errors and how well the order agrees. */
export function agreement(name: string, pairs: readonly Pair[]): string {
  if (pairs.length < 3) return `${name}: ${pairs.length}, too few to compare`;
  const most = pairs.map(({ mostCents }) => mostCents);
  const about = pairs.map(({ aboutCents }) => aboutCents);
  const brought = pairs.map(({ broughtCents }) => broughtCents);
  const sum = (cents: readonly number[]) => (cents.reduce((total, one) => total + one, 0) / 100).toFixed(0);
  const errors = pairs.flatMap(({ aboutCents, broughtCents }) => {
    const larger = Math.max(aboutCents, Math.abs(broughtCents));
    return larger < leastCents ? [] : [Math.abs(aboutCents - broughtCents) / larger];
  });
  const meanPct = (100 * errors.reduce((total, error) => total + error, 0)) / errors.length;
  return [
    `${name}: ${pairs.length} units; in all at most ${sum(most)}, about ${sum(about)}, brought ${sum(brought)}`,
    `  error of about, as a share of the larger of both, where that is 10 and more (${errors.length}): mean ${meanPct.toFixed(0)} %, median ${errors.length === 0 ? "-" : (100 * median(errors)).toFixed(0)} %`,
    `  rank correlation with what it brought: about ${rankCorrelation(about, brought).toFixed(2)}, at most ${rankCorrelation(most, brought).toFixed(2)}`,
  ].join("\n");
}
