export interface Tick {
  readonly value: number;
  readonly text: string;
}

/** The multiples of a round step, 1, 2 or 5 of a power of ten, that lie between; at most `most` and one more. */
export function roundTicks(from: number, to: number, most: number): readonly Tick[] {
  if (!(to > from)) return [];
  const least = (to - from) / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(least));
  const step = ([1, 2, 5].find((factor) => factor * power >= least) ?? 10) * power;
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(from / step);
  const count = Math.floor(to / step) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, at) => {
    const value = (first + at) * step;
    return { value, text: value.toFixed(digits) };
  });
}
