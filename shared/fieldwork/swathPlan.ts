import { areaM2, centroid } from "../geo/area.ts";
import { distanceM } from "../geo/distance.ts";
import type { AreaXY } from "../geo/plane.ts";
import { type Passes, passesAt, stripsOf } from "../geo/swath.ts";
import { convexHull, headingOf, leastWidthOfHull } from "../geo/width.ts";
import { degFromRad, radFromDeg } from "../units/units.ts";
import { headlandOf } from "./headland.ts";
import { inFlyingOrder, type Leg, pathOf } from "./path.ts";

/** Our choice: the longest edges that are tried as directions beside the one of least width. */
const edgesTried = 8;
/** Our choice: directions nearer than this to one already tried bring nothing new. */
const headingStepRad = radFromDeg(1);
/** Our choice: as many directions that promise best are worked out as they would be flown. */
const flownTried = 3;

export interface SwathRules {
  /** As laid on the map. */
  readonly swathM: number;
  /** A turn costs as much as flying so far. */
  readonly turnCostM: number;
  /** Strip along the outline that is flown in laps round the field, so that passes need not run up to it; 0: none. */
  readonly headlandM: number;
  /** Direction that rows, the grower or the wind prescribe; left out: the best. */
  readonly headingDeg?: number | undefined;
}

export interface SwathPlan {
  /** Direction of the passes clockwise from north, [0, 180). */
  readonly headingDeg: number;
  readonly headingRad: number;
  readonly passes: number;
  readonly turns: number;
  /** Length flown with the gear on. */
  readonly passM: number;
  /** Length flown with the gear off between passes that are not side by side, turns apart. */
  readonly hopM: number;
  /** Share of the ground under the swaths that is covered twice, or lies outside the field. */
  readonly overlapFrac: number;
  /** All pieces in the order flown. Made anew whenever they are asked for: of many plans they take much room. */
  readonly legs: readonly Leg[];
}

/**
 * The swath plan that costs least. Turns are fewest along the direction of least width of a convex field (Huang, Optimal
 * line-sweep-based decompositions for coverage algorithms, ICRA 2001); a bay, an obstacle or a slanting end can make a side
 * of the field the better guide, so its long sides are tried too.
 */
export function bestSwathPlan(area: AreaXY, rules: SwathRules): SwathPlan {
  return bestFlown(area, rules).plan;
}

/** The same with the pieces, for those who need them at once. */
export function bestFlown(area: AreaXY, rules: SwathRules): { plan: SwathPlan; legs: readonly Leg[] } {
  const headland = headlandOf(area, rules.headlandM, rules.swathM);
  const groundM2 = areaM2(headland.inner);
  const roughCostM = ({ passes, passM }: Laid) => passM + passes.pieces * rules.turnCostM;
  let laid: Laid[] = [];
  for (const headingRad of headingsOf(headland.inner, rules.headingDeg)) {
    const worst = laid[flownTried - 1];
    // Every strip over ground in one piece has a piece of its own, and no plan is shorter than its ground is wide.
    if (worst !== undefined && headland.inner.length === 1) {
      const leastM =
        groundM2 / rules.swathM + stripsOf(headland.inner, headingRad, rules.swathM).count * rules.turnCostM;
      if (leastM >= roughCostM(worst)) continue;
    }
    laid.push(layPasses(headland.inner, groundM2, headingRad, rules.swathM));
    laid = laid.sort((a, b) => roughCostM(a) - roughCostM(b)).slice(0, flownTried);
  }
  const lapTurns = turnsInLaps(headland.laps);
  let best: Flown | undefined;
  let bestCostM = Number.POSITIVE_INFINITY;
  for (const one of laid) {
    const turns = lapTurns === undefined ? Math.max(0, one.passes.pieces - 1) : lapTurns + one.passes.pieces;
    // Hops only add to it.
    if (one.passM + turns * rules.turnCostM >= bestCostM) continue;
    const flown = fly(one, headland.laps, rules.swathM, turns);
    const costM = one.passM + flown.hopM + turns * rules.turnCostM;
    if (costM >= bestCostM) continue;
    best = flown;
    bestCostM = costM;
  }
  const { laid: bestLaid, turns } = best!;
  const legs = legsOf(area, best!);
  const legsAgain = () => legsOf(area, fly(bestLaid, headland.laps, rules.swathM, turns));
  return { plan: planOf(area, best!, headland.laps, rules.swathM, legsAgain), legs };
}

interface Laid {
  readonly passes: Passes;
  readonly passM: number;
}

function layPasses(area: AreaXY, groundM2: number, headingRad: number, swathM: number): Laid {
  const passes = passesAt(area, headingRad, swathM);
  // Tips and splinters between two centre lines are sprayed as well, so no plan is shorter than its ground is wide.
  return { passes, passM: Math.max(passes.lengthM, groundM2 / swathM) };
}

/** Passes in the order flown, after the laps. */
interface Flown {
  readonly laid: Laid;
  readonly legs: readonly Leg[];
  readonly turns: number;
  readonly hopM: number;
}

function fly(laid: Laid, laps: readonly (readonly Leg[])[], swathM: number, turns: number): Flown {
  const lapLegs = laps.flat();
  const legs = pathOf([...lapLegs, ...inFlyingOrder(laid.passes.segments, lapLegs.at(-1)?.to)], swathM);
  let hopM = 0;
  for (const leg of legs) hopM += leg.hopM;
  return { laid, legs, turns, hopM };
}

/** At corners of laps and from lap to lap; undefined without laps, after which even the first pass takes a turn. */
function turnsInLaps(laps: readonly (readonly Leg[])[]): number | undefined {
  const legs = laps.flat();
  return legs.length === 0 ? undefined : legs.slice(1).reduce((sum, { turns }) => sum + turns, 0);
}

function planOf(
  area: AreaXY,
  { laid: { passes, passM: insideM }, turns, hopM }: Flown,
  laps: readonly (readonly Leg[])[],
  swathM: number,
  listLegs: () => readonly Leg[],
): SwathPlan {
  const passM = insideM + laps.flat().reduce((sum, { lengthM }) => sum + lengthM, 0);
  return {
    headingDeg: degFromRad(passes.headingRad),
    headingRad: passes.headingRad,
    passes: Math.max(1, passes.count) + laps.length,
    turns,
    passM,
    hopM,
    overlapFrac: Math.max(0, 1 - areaM2(area) / (passM * swathM)),
    get legs() {
      return listLegs();
    },
  };
}

/** Ground that no centre line meets is flown over in its middle. */
function legsOf(area: AreaXY, { laid: { passM }, legs }: Flown): readonly Leg[] {
  if (legs.length > 0) return legs;
  const place = centroid(area);
  return [{ pass: 0, from: place, to: place, lengthM: passM, turns: 0, hopM: 0 }];
}

/** Directions worth trying. All come from the area itself, so that turning the field turns the plan with it. */
function headingsOf(area: AreaXY, prescribedDeg: number | undefined): number[] {
  if (prescribedDeg !== undefined) return [radFromDeg(prescribedDeg % 180)];
  const corners = area.flatMap((polygon) => polygon[0]!);
  const hull = convexHull(corners);
  const edges = [...area.flat(), hull].flatMap((ring) =>
    ring.map((from, i) => {
      const to = ring[(i + 1) % ring.length]!;
      return { lengthM: distanceM(from, to), headingRad: headingOf(from, to) };
    }),
  );
  const headingsRad = [leastWidthOfHull(hull).headingRad];
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
