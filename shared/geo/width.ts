import { turnOf } from "./area.ts";
import { distanceM } from "./distance.ts";
import type { PointXY, Ring } from "./plane.ts";

/** Convex hull, counter-clockwise, by Andrew's monotone chain (Information Processing Letters 9, 1979). */
export function convexHull(points: readonly PointXY[]): Ring {
  const sorted = points.toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (sorted.length < 3) return sorted;
  const lower = chain(sorted);
  const upper = chain(sorted.toReversed());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

function chain(points: readonly PointXY[]): PointXY[] {
  const kept: PointXY[] = [];
  for (const point of points) {
    while (kept.length > 1 && turnOf(kept[kept.length - 2]!, kept[kept.length - 1]!, point) <= 0) kept.pop();
    kept.push(point);
  }
  return kept;
}

export interface LeastWidth {
  readonly widthM: number;
  /** Direction along the strip of least width, clockwise from north, [0, pi). */
  readonly headingRad: number;
}

/**
 * Least width of a set of points, by rotating calipers: the narrowest strip has an edge of the hull on one side
 * (Houle and Toussaint, Computing the width of a set, IEEE Transactions on Pattern Analysis 10, 1988).
 */
export function leastWidth(points: readonly PointXY[]): LeastWidth {
  return leastWidthOfHull(convexHull(points));
}

export function leastWidthOfHull(hull: Ring): LeastWidth {
  const count = hull.length;
  if (count < 2) return { widthM: 0, headingRad: 0 };
  let best: LeastWidth | undefined;
  let far = 1;
  for (let i = 0; i < count; i++) {
    const from = hull[i]!;
    const to = hull[(i + 1) % count]!;
    const edgeM = distanceM(from, to);
    // The opposite corner only moves forward, so all edges together cost one turn around the hull.
    let widthM = turnOf(from, to, hull[far % count]!) / edgeM;
    for (;;) {
      const nextM = turnOf(from, to, hull[(far + 1) % count]!) / edgeM;
      if (!(nextM > widthM)) break;
      widthM = nextM;
      far++;
    }
    if (best === undefined || widthM < best.widthM) best = { widthM, headingRad: headingOf(from, to) };
  }
  return best!;
}

/** Direction of a line through two points, clockwise from north, [0, pi): a line has no front. */
export function headingOf([axM, ayM]: PointXY, [bxM, byM]: PointXY): number {
  return lineHeading(Math.atan2(bxM - axM, byM - ayM));
}

/** The heading of a line as the one of its two that lies in [0, pi). */
function lineHeading(headingRad: number): number {
  const turned = headingRad % Math.PI;
  const positive = turned < 0 ? turned + Math.PI : turned;
  return positive < Math.PI ? positive : 0;
}
