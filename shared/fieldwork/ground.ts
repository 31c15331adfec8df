import { areaM2 } from "../geo/area.ts";
import { distanceM, distanceToSegmentM } from "../geo/distance.ts";
import type { AreaXY, PointXY } from "../geo/plane.ts";
import { remember } from "../model/remember.ts";
import { haFromM2 } from "../units/units.ts";
import type { Beside } from "./cycle.ts";
import { flipped, type Leg, pathOf } from "./path.ts";
import { createPadPath, type FlownPath, flownPath, type PadPath, type SortieSums } from "./sorties.ts";
import { bestSwathPlan, type SwathPlan, type SwathRules } from "./swathPlan.ts";

/** What a type of aircraft makes of a block, whatever the rate. */
export interface Motion {
  /** Of the gear, along the ground. */
  readonly swathM: number;
  /** On the passes, at most. */
  readonly speedMaxMps: number;
  readonly turnS: number;
  readonly ferrySpeedMps: number;
  readonly takeoffLandingS: number;
}

/** How the ground is to be flown, whatever flies it. */
export interface GroundRules extends Omit<SwathRules, "swathM" | "turnCostM"> {
  readonly slopePct: number;
}

/** The work as it is seen from one pad. */
export interface PadGround {
  readonly farthestM: number;
  /** Kept once found. */
  readonly beside: Beside;
  /** What there is of ways and turns, when the block is shared out evenly over so many loads. */
  sums(loads: number): SortieSums;
  /** All pieces in the order and direction flown from this pad. */
  legs(loads: number): readonly Leg[];
}

/** All that the time of a block takes from the map. Costly to make; good for every rate, outfit and tender. */
export interface Ground {
  readonly areaHa: number;
  readonly motion: Motion;
  readonly swathPlan: SwathPlan;
  /** In the order of the pads. */
  readonly pads: readonly PadGround[];
}

/**
 * How wide a swath lies on the map. Our choice: the swath is laid along the slope, whose steepest is taken for all of the field, so
 * it covers the cosine of it (plain trigonometry); the speed stays.
 */
export function swathOnMapM(swathM: number, slopePct: number): number {
  return swathM * Math.cos(Math.atan(slopePct / 100));
}

export function prepareGround(
  area: AreaXY,
  pads: readonly PointXY[],
  motion: Motion,
  { slopePct, ...rules }: GroundRules,
): Ground {
  if (pads.length === 0) throw new RangeError("a field has at least one pad");
  const swathM = swathOnMapM(motion.swathM, slopePct);
  // The same for every rate, so that grounds can be shared.
  const turnCostM = motion.turnS * motion.speedMaxMps;
  const swathPlan = bestSwathPlan(area, { ...rules, swathM, turnCostM });
  const paths = [swathPlan.legs, ...otherStart(swathPlan.legs, swathM)].map((legs) => flownPath(legs, swathPlan.passM));
  return {
    areaHa: haFromM2(areaM2(area)),
    motion,
    swathPlan,
    pads: pads.map((pad) => padGround(pad, paths, swathPlan, motion)),
  };
}

/** Passes flown forth and back may as well begin at the other end of the first one. */
function otherStart(legs: readonly Leg[], swathM: number): Leg[][] {
  const stepOf = (index: number) => legs[index]!.pass - legs[index - 1]!.pass;
  const isForthAndBack = legs.every(({ pass }, index) => pass >= 0 && (index === 0 || stepOf(index) * stepOf(1) > 0));
  return isForthAndBack ? [pathOf(legs.map(flipped), swathM)] : [];
}

function padGround(
  pad: PointXY,
  paths: readonly FlownPath[],
  { turns: turnsAll }: SwathPlan,
  motion: Motion,
): PadGround {
  const { turnS, ferrySpeedMps, takeoffLandingS } = motion;
  const { legs } = paths[0]!;
  const seen = paths.map((path) => createPadPath(path, pad));
  const best = remember((loads: number): SeenPath => {
    let least: SeenPath | undefined;
    for (const path of seen) {
      const sums = path.sums(loads);
      if (least === undefined || sums.ferryM < least.sums.ferryM) least = { path, sums };
    }
    return least!;
  });
  // A sortie more saves at most one turn.
  const leastS = (2 * nearestM(pad, legs)) / ferrySpeedMps + takeoffLandingS;
  const leastSumS = (loads: number) =>
    leastS < turnS
      ? Math.max(loads, turnsAll + 1) * leastS
      : loads * leastS + Math.max(0, turnsAll - (loads - 1)) * turnS;
  return {
    farthestM: farthestM(pad, legs),
    sums: (loads) => best(loads).sums,
    legs: (loads) => {
      const { path } = best(loads);
      return path.isBackwards(loads) ? backwards(path.path.legs) : path.path.legs;
    },
    beside: {
      leastSumS,
      sumS: (loads) => {
        const { ferryM, turns, hopM } = best(loads).sums;
        return loads * takeoffLandingS + (ferryM + hopM) / ferrySpeedMps + turns * turnS;
      },
      eachS: remember((loads: number) => best(loads).path.besideS(loads, motion)),
    },
  };
}

interface SeenPath {
  readonly path: PadPath;
  readonly sums: SortieSums;
}

/** The way to a piece is then the way from it to the one after. */
function backwards(legs: readonly Leg[]): Leg[] {
  return legs
    .map((leg, index): Leg => {
      const after = legs[index + 1];
      return { ...leg, from: leg.to, to: leg.from, turns: after?.turns ?? 0, hopM: after?.hopM ?? 0 };
    })
    .toReversed();
}

function nearestM(pad: PointXY, legs: readonly Leg[]): number {
  let leastM = Number.POSITIVE_INFINITY;
  for (const { from, to } of legs) leastM = Math.min(leastM, distanceToSegmentM(pad, from, to));
  return leastM;
}

function farthestM(pad: PointXY, legs: readonly Leg[]): number {
  let mostM = Number.NEGATIVE_INFINITY;
  for (const { from, to } of legs) mostM = Math.max(mostM, distanceM(pad, from), distanceM(pad, to));
  return mostM;
}
