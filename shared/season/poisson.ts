/** Further from the mean than this many deviations lies less than what a number of 32 bits can tell. */
const reachDeviations = 12;

/**
 * A number of events of the given mean, by inversion with sequential search (Devroye, Non-Uniform Random Variate Generation,
 * 1986, X.3.3). One number of chance gives one answer, and of the same chance a greater mean never gives fewer: weeks of a
 * higher demand hold those of a lower one.
 */
export function poissonOf(mean: number, chance: number): number {
  if (mean <= 0) return 0;
  let count = Math.max(0, Math.floor(mean - reachDeviations * Math.sqrt(mean)));
  let logProbability = count * Math.log(mean) - mean;
  for (let factor = 2; factor <= count; factor++) logProbability -= Math.log(factor);
  const last = mean + reachDeviations * Math.sqrt(mean) + reachDeviations;
  let probability = Math.exp(logProbability);
  let upTo = probability;
  while (chance >= upTo && count < last) {
    count++;
    probability *= mean / count;
    upTo += probability;
  }
  return count;
}
