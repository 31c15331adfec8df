/** A half-open interval of minutes. */
export interface Span {
  readonly fromMin: number;
  readonly toMin: number;
}

/** The first minute of a span that none of the covers holds, or undefined when they cover it whole. */
export function firstUncovered(span: Span, covers: readonly Span[]): number | undefined {
  let atMin = span.fromMin;
  for (const cover of [...covers].sort((a, b) => a.fromMin - b.fromMin)) {
    if (atMin >= span.toMin || cover.fromMin > atMin) break;
    atMin = Math.max(atMin, cover.toMin);
  }
  return atMin < span.toMin ? atMin : undefined;
}

export function shareMinute(a: Span, b: Span): boolean {
  return Math.max(a.fromMin, b.fromMin) < Math.min(a.toMin, b.toMin);
}

/** The part of a span that lies in another. */
export function partIn(span: Span, other: Span): Span {
  return { fromMin: Math.max(span.fromMin, other.fromMin), toMin: Math.min(span.toMin, other.toMin) };
}
