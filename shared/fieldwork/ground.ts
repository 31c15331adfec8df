import { areaM2 } from "../geo/area.ts";
import type { AreaXY, PointXY } from "../geo/plane.ts";
import { haFromM2 } from "../units/units.ts";
import { flipped, type Leg, pathOf } from "./path.ts";
import { type PadGround, SeenFromPad } from "./seenFromPad.ts";
import { flippedPath, flownPath } from "./sorties.ts";
import { bestFlown, type SwathPlan, type SwathRules } from "./swathPlan.ts";

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
  const { plan: swathPlan, legs } = bestFlown(area, { ...rules, swathM, turnCostM });
  // Passes flown forth and back may as well begin at the other end of the first one.
  const path = flownPath(legs, swathPlan.passM);
  const paths = isForthAndBack(legs) ? [path, flippedPath(path, swathM)] : [path];
  return {
    areaHa: haFromM2(areaM2(area)),
    motion,
    swathPlan,
    pads: pads.map(
      (pad) =>
        new SeenFromPad(pad, paths, motion, (which) =>
          which === 0 ? swathPlan.legs : fromOtherEnd(swathPlan.legs, swathM),
        ),
    ),
  };
}

function isForthAndBack(legs: readonly Leg[]): boolean {
  const stepOf = (index: number) => legs[index]!.pass - legs[index - 1]!.pass;
  return legs.every(({ pass }, index) => pass >= 0 && (index === 0 || stepOf(index) * stepOf(1) > 0));
}

function fromOtherEnd(legs: readonly Leg[], swathM: number): Leg[] {
  return pathOf(legs.map(flipped), swathM);
}
