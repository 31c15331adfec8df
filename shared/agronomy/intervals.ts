/** Whole minutes from startMin up to but not including endMin. A list of them is sorted and disjoint. */
export interface Interval {
  readonly startMin: number;
  readonly endMin: number;
}

/** One list out of many intervals in any order; touching ones become one, empty ones vanish. */
export function union(intervals: readonly Interval[]): Interval[] {
  const isSorted = intervals.every(({ startMin }, at) => at === 0 || intervals[at - 1]!.startMin <= startMin);
  const sorted = isSorted ? intervals : intervals.toSorted((a, b) => a.startMin - b.startMin);
  const merged: { startMin: number; endMin: number }[] = [];
  for (const { startMin, endMin } of sorted) {
    if (startMin >= endMin) continue;
    const last = merged[merged.length - 1];
    if (last && startMin <= last.endMin) last.endMin = Math.max(last.endMin, endMin);
    else merged.push({ startMin, endMin });
  }
  return merged;
}

/** What of [startMin, endMin) the list leaves free. */
export function gaps(list: readonly Interval[], startMin: number, endMin: number): Interval[] {
  const free: Interval[] = [];
  let from = startMin;
  for (const taken of list) {
    if (taken.startMin >= endMin) break;
    if (taken.startMin > from) free.push({ startMin: from, endMin: taken.startMin });
    from = Math.max(from, taken.endMin);
  }
  if (from < endMin) free.push({ startMin: from, endMin });
  return free;
}

/** The part of the list inside [startMin, endMin). */
export function clip(list: readonly Interval[], startMin: number, endMin: number): Interval[] {
  const inside: Interval[] = [];
  for (const interval of list) {
    const from = Math.max(interval.startMin, startMin);
    const to = Math.min(interval.endMin, endMin);
    if (from < to) inside.push({ startMin: from, endMin: to });
  }
  return inside;
}

export function totalMin(list: readonly Interval[]): number {
  return list.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
}

/** The interval of the list that holds the minute. */
export function intervalAt<Item extends Interval>(list: readonly Item[], min: number): Item | undefined {
  return list.find(({ startMin, endMin }) => startMin <= min && min < endMin);
}
