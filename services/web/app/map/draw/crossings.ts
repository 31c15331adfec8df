import { segmentsMeet, turnOf } from "../../../../../shared/geo/area.ts";
import type { PointXY } from "../../../../../shared/geo/plane.ts";

/** Two edges of one ring that cross or touch, each by the number of its first corner, counted from 1. */
export interface Crossing {
  readonly edge: number;
  readonly other: number;
}

/** The first two edges of a closed ring that meet where they should not; null: none do. Edges that follow each other share a corner and may not fold back. */
export function crossingIn(corners: readonly PointXY[]): Crossing | null {
  const count = corners.length;
  const at = (corner: number) => corners[corner % count]!;
  for (let edge = 0; edge < count; edge++) {
    for (let other = edge + 1; other < count; other++) {
      const [a, b, c, d] = [at(edge), at(edge + 1), at(other), at(other + 1)];
      const isNext = other === edge + 1 || (edge === 0 && other === count - 1);
      const meets = isNext ? foldsBack(other === edge + 1 ? [a, b, d] : [c, a, b]) : segmentsMeet(a, b, c, d);
      if (meets) return { edge: edge + 1, other: other + 1 };
    }
  }
  return null;
}

/** Whether the way over the middle corner goes back along itself, or stands still. */
function foldsBack([from, over, to]: readonly [PointXY, PointXY, PointXY]): boolean {
  if (turnOf(from, over, to) !== 0) return false;
  const alongM2 = (over[0] - from[0]) * (to[0] - over[0]) + (over[1] - from[1]) * (to[1] - over[1]);
  return alongM2 <= 0;
}
