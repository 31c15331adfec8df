import { areaM2 } from "../geo/area.ts";
import { distanceM } from "../geo/distance.ts";
import type { AreaXY, PointXY } from "../geo/plane.ts";
import { haFromM2 } from "../units/units.ts";
import { bestSwathPlan, type SwathPlan } from "./swathPlan.ts";

/** How far a pad is from the work. */
export interface PadFerry {
  /**
   * Mean over the ends of the passes, long ones counting more: a sortie starts and breaks off somewhere along the
   * passes. Distance is convex, so the mean over the ends is never below the mean along the passes.
   */
  readonly meanM: number;
  readonly farthestM: number;
}

/** All that the time of a block takes from the map. Costly to make; good for every rate, outfit and tender. */
export interface Ground {
  readonly areaHa: number;
  readonly swathM: number;
  readonly swathPlan: SwathPlan;
  /** In the order of the pads. */
  readonly ferries: readonly PadFerry[];
}

export function prepareGround(area: AreaXY, pads: readonly PointXY[], swathM: number, turnCostM: number): Ground {
  if (pads.length === 0) throw new RangeError("a field has at least one pad");
  const swathPlan = bestSwathPlan(area, swathM, turnCostM);
  return {
    areaHa: haFromM2(areaM2(area)),
    swathM,
    swathPlan,
    ferries: pads.map((pad) => ferryOf(swathPlan, pad)),
  };
}

function ferryOf({ segments }: SwathPlan, pad: PointXY): PadFerry {
  let momentM2 = 0;
  let lengthM = 0;
  let farthestM = 0;
  for (const segment of segments) {
    const fromM = distanceM(pad, segment.from);
    const toM = distanceM(pad, segment.to);
    momentM2 += (segment.lengthM * (fromM + toM)) / 2;
    lengthM += segment.lengthM;
    farthestM = Math.max(farthestM, fromM, toM);
  }
  return { meanM: momentM2 / lengthM, farthestM };
}
