export interface CurvePoint {
  /** How much of the time is used, 0 to 1. */
  readonly share: number;
  readonly value: number;
}

interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The best so far over the time that is given, as steps: it stays until something better is found. Higher values lie higher. */
export function stepPath(points: readonly CurvePoint[], { heightPx, widthPx }: Size): string {
  const [first] = points;
  if (first === undefined) return "";
  const values = points.map(({ value }) => value);
  const least = Math.min(...values);
  const span = Math.max(...values) - least;
  const x = (share: number) => rounded(Math.min(1, Math.max(0, share)) * widthPx);
  // All alike is drawn in the middle: there is no better or worse to be seen.
  const y = (value: number) => rounded(span === 0 ? heightPx / 2 : heightPx - ((value - least) / span) * heightPx);
  const steps = points.slice(1).map(({ share, value }) => `H${x(share)}V${y(value)}`);
  return [`M${x(first.share)} ${y(first.value)}`, ...steps].join("");
}

const rounded = (px: number) => Math.round(px * 10) / 10;

/** Keeps what has changed: hundreds of reports with the same best make one step. */
export function withPoint(points: readonly CurvePoint[], next: CurvePoint): readonly CurvePoint[] {
  const last = points.at(-1);
  if (last === undefined) return [next];
  // A worker that was begun again starts its time anew.
  if (next.share < last.share) return [next];
  if (next.share === last.share && next.value === last.value) return points;
  const before = points.at(-2);
  const isFlat = before !== undefined && before.value === last.value && last.value === next.value;
  return [...(isFlat ? points.slice(0, -1) : points), next];
}
