import { areaM2, centroid } from "../geo/area.ts";
import type { AreaXY } from "../geo/plane.ts";
import { type PassSegment, passesAt } from "../geo/swath.ts";
import { convexHull, headingOf, leastWidth } from "../geo/width.ts";
import { degFromRad, radFromDeg } from "../units/units.ts";

/** Our choice: the longest edges that are tried as directions beside the one of least width. */
const edgesTried = 8;
/** Our choice: directions nearer than this to one already tried bring nothing new. */
const headingStepRad = radFromDeg(1);

export interface SwathPlan {
  /** Direction of the passes clockwise from north, [0, 180). */
  readonly headingDeg: number;
  readonly headingRad: number;
  readonly passes: number;
  readonly turns: number;
  /** Length flown with the gear on. */
  readonly passM: number;
  readonly segments: readonly PassSegment[];
}

/**
 * The swath plan that costs least, a turn costing as much as flying `turnCostM`. Turns are fewest along the direction of
 * least width of a convex field (Huang, Optimal line-sweep-based decompositions for coverage algorithms, ICRA 2001); a
 * bay, an obstacle or a slanting end can make a side of the field the better guide, so its long sides are tried too.
 */
export function bestSwathPlan(area: AreaXY, swathM: number, turnCostM: number): SwathPlan {
  const groundM2 = areaM2(area);
  let best: SwathPlan | undefined;
  let bestCostM = Number.POSITIVE_INFINITY;
  for (const headingRad of headingsOf(area)) {
    const plan = planAt(area, groundM2, headingRad, swathM);
    const costM = plan.passM + plan.turns * turnCostM;
    if (best === undefined || costM < bestCostM) {
      best = plan;
      bestCostM = costM;
    }
  }
  return best!;
}

function planAt(area: AreaXY, groundM2: number, headingRad: number, swathM: number): SwathPlan {
  const passes = passesAt(area, headingRad, swathM);
  // Tips and splinters between two centre lines are sprayed as well, so no plan is shorter than its ground is wide.
  const passM = Math.max(passes.lengthM, groundM2 / swathM);
  const place = centroid(area);
  const segments = passes.segments.length > 0 ? passes.segments : [{ pass: 0, from: place, to: place, lengthM: passM }];
  return {
    headingDeg: degFromRad(headingRad),
    headingRad,
    passes: Math.max(1, passes.count),
    turns: segments.length - 1,
    passM,
    segments,
  };
}

/** Directions worth trying. All come from the area itself, so that turning the field turns the plan with it. */
function headingsOf(area: AreaXY): number[] {
  const corners = area.flatMap((polygon) => polygon[0]!);
  const edges = [...area.flat(), convexHull(corners)].flatMap((ring) =>
    ring.map((from, i) => {
      const to = ring[(i + 1) % ring.length]!;
      return { lengthM: Math.hypot(to[0] - from[0], to[1] - from[1]), headingRad: headingOf(from, to) };
    }),
  );
  const headingsRad = [leastWidth(corners).headingRad];
  for (const { headingRad } of edges.sort((a, b) => b.lengthM - a.lengthM)) {
    if (headingsRad.length > edgesTried) break;
    if (headingsRad.every((tried) => apartRad(tried, headingRad) > headingStepRad)) headingsRad.push(headingRad);
  }
  return headingsRad;
}

function apartRad(oneRad: number, otherRad: number): number {
  const gapRad = Math.abs(oneRad - otherRad);
  return Math.min(gapRad, Math.PI - gapRad);
}
