import { segmentsMeet, turnOf } from "../../../../../shared/geo/area.ts";
import type { PointXY } from "../../../../../shared/geo/plane.ts";

/** Two edges of one ring that cross or touch, each by the number of its first corner, counted from 1. */
export interface Crossing {
  readonly edge: number;
  readonly other: number;
}

/**
 * The first two edges of a closed ring that meet where they should not; null: none do. Edges that follow each other share a corner and may not fold back. A corner said twice in a row is no edge.
 */
export function crossingIn(corners: readonly PointXY[]): Crossing | null {
  const ring = corners
    .map((point, at) => ({ point, number: at + 1, before: corners.at(at - 1)! }))
    .filter(({ before, point }) => point[0] !== before[0] || point[1] !== before[1]);
  const count = ring.length;
  const at = (corner: number) => ring[corner % count]!.point;
  for (let edge = 0; edge < count; edge++) {
    for (let other = edge + 1; other < count; other++) {
      const [a, b, c, d] = [at(edge), at(edge + 1), at(other), at(other + 1)];
      const isNext = other === edge + 1;
      const isBefore = edge === 0 && other === count - 1;
      const meets = isNext ? foldsBack(a, b, d) : isBefore ? foldsBack(c, a, b) : segmentsMeet(a, b, c, d);
      if (meets) return { edge: ring[edge]!.number, other: ring[other]!.number };
    }
  }
  return null;
}

/** Whether the way over the middle corner goes back along itself. */
function foldsBack(from: PointXY, over: PointXY, to: PointXY): boolean {
  if (turnOf(from, over, to) !== 0) return false;
  return (over[0] - from[0]) * (to[0] - over[0]) + (over[1] - from[1]) * (to[1] - over[1]) < 0;
}
