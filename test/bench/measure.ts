export function timed(run: () => void): number {
  const startMs = performance.now();
  run();
  return performance.now() - startMs;
}

export function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
