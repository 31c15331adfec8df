import { type CropProfile, cropProfiles } from "./crops.ts";
import type { ShapeWishes } from "./fieldShapes.ts";
import type { Random } from "./random.ts";

/** A field before it has a place: what grows on it, how large it is and how it is cut. */
export interface FieldPlan extends Omit<ShapeWishes, "angleRad"> {
  readonly profile: CropProfile;
}

const leastHa = 1;
const greatestHa = 80;

/** Crops and areas, log-normal about the crop's mean, so that a few fields hold most of the ground. */
export function planFields(random: Random, count: number, meanHa: number): FieldPlan[] {
  const byWeight = cropProfiles.map((profile) => [profile, profile.weight] as const);
  return Array.from({ length: count }, () => {
    const profile = random.weighted(byWeight);
    const wishedHa = meanHa * profile.meanAreaFactor * Math.exp(random.normal(-0.25, 0.7));
    const areaHa = Math.max(leastHa, Math.min(greatestHa, wishedHa));
    return {
      profile,
      areaHa,
      holes: areaHa > 4 && random.chance(0.14) ? random.whole(1, 3) : 0,
      parts: areaHa > 6 && random.chance(0.06) ? 2 : 1,
      pads: areaHa > 5 && random.chance(0.22) ? 2 : 1,
    };
  });
}
