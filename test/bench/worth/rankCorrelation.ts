/**
 * Spearman's rank correlation: Pearson's of the ranks, equal values sharing the mean of theirs (Kendall & Gibbons 1990, "Rank Correlation Methods": MEMORY). Without equal values it is
 * 1 - 6 x sum of d² / (n (n² - 1)).
 */
export function rankCorrelation(a: readonly number[], b: readonly number[]): number {
  const [x, y] = [ranksOf(a), ranksOf(b)];
  const mean = (a.length + 1) / 2;
  let [xy, xx, yy] = [0, 0, 0];
  for (let at = 0; at < a.length; at++) {
    const [dx, dy] = [x[at]! - mean, y[at]! - mean];
    xy += dx * dy;
    xx += dx * dx;
    yy += dy * dy;
  }
  return xy / Math.sqrt(xx * yy);
}

function ranksOf(values: readonly number[]): number[] {
  return values.map((value) => {
    const below = values.filter((other) => other < value).length;
    const same = values.filter((other) => other === value).length;
    return below + (same + 1) / 2;
  });
}
