export function timed(run: () => void): number {
  const startMs = performance.now();
  run();
  return performance.now() - startMs;
}

export function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** What was counted, and how often, in the order of the words. */
export function countsText(counts: ReadonlyMap<string | number, number>): string {
  return [...counts]
    .toSorted()
    .map(([what, count]) => `${what}: ${count}`)
    .join(", ");
}
