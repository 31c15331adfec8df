/** The value below which a share of the values lies: type 7 of Hyndman and Fan 1996, "Sample Quantiles in Statistical Packages", a straight line between the values at either side. */
export function quantile(values: readonly number[], frac: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = (sorted.length - 1) * frac;
  const below = Math.floor(place);
  const lower = sorted[below]!;
  const upper = sorted[Math.min(below + 1, sorted.length - 1)]!;
  return lower + (place - below) * (upper - lower);
}
