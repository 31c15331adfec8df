import { meanOf, standardDeviation } from "./moments.ts";
import { criticalT } from "./studentT.ts";

/** What lies between two things that were measured in pairs: the mean of the differences, and where the true mean lies with 95 % (Student's t); no interval of a single pair. */
export interface PairedDifference {
  readonly pairs: number;
  readonly mean: number;
  readonly interval95: readonly [lower: number, upper: number] | null;
}

export function pairedDifference(differences: readonly number[]): PairedDifference {
  const mean = meanOf(differences);
  const deviation = standardDeviation(differences);
  if (deviation === null) return { pairs: differences.length, mean, interval95: null };
  const reach = (criticalT(0.95, differences.length - 1) * deviation) / Math.sqrt(differences.length);
  return { pairs: differences.length, mean, interval95: [mean - reach, mean + reach] };
}

/**
 * Spread that is left between values that should be alike, over groups of them: the pooled standard deviation, each group's weighted by its degrees of freedom. None where no group has two values.
 */
export function spreadWithin(groups: readonly (readonly number[])[]): number | null {
  let [squares, degrees] = [0, 0];
  for (const values of groups) {
    const deviation = standardDeviation(values);
    if (deviation === null) continue;
    squares += (values.length - 1) * deviation ** 2;
    degrees += values.length - 1;
  }
  return degrees === 0 ? null : Math.sqrt(squares / degrees);
}

/** One rule: the interval leaves out zero, and the difference is larger than the spread of the one that it is held against. Less than `least` is rounding. */
export function isClear({ mean, interval95 }: PairedDifference, spread: number | null, least = 0): boolean {
  if (interval95 === null || Math.abs(mean) < least) return false;
  const [lower, upper] = interval95;
  return (lower > 0 || upper < 0) && (spread === null || Math.abs(mean) > spread);
}
