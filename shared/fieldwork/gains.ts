import { gearOf } from "./flow.ts";
import type { Ground } from "./ground.ts";
import { type OutfitInput, workingBays, workTimeOn } from "./workTime.ts";

/** What an outfit may be given more of. */
export const additions = [
  "aircraft",
  "batterySet",
  "bay",
  "generator",
  "loadingPoint",
  "pump",
  "mixer",
  "tank",
] as const;
export type Addition = (typeof additions)[number];

/** Our choice: what comes in sizes is made larger by a quarter. */
const larger = 1.25;

export interface Gain {
  readonly addition: Addition;
  /** What there is with it: how many aircraft, sets, working bays or points; kW of generator; L/min of pump or mixer; L or kg of a full load. */
  readonly becomes: number;
  /** What the generator must then give; left out where it gives enough. */
  readonly generatorKw?: number;
  /** Places for aircraft that the tender must then have; left out where it has them. */
  readonly tenderPlaces?: number;
  readonly minutes: number;
  /** By so much the work rate rises. */
  readonly gainFrac: number;
}

/**
 * What one more of each thing brings to an outfit that takes `minutes` on the ground and whose tender has so many places; in the order of
 * `additions`, without what it cannot use.
 */
export function gainsOf(ground: Ground, outfit: OutfitInput, minutes: number, tenderPlaces: number): Gain[] {
  return triesOf(outfit, tenderPlaces).flatMap(({ with: given, ...addition }) => {
    const work = workTimeOn(ground, { ...outfit, ...given });
    if (!work.ok) return [];
    // What is there more may be left unused: of many loads not every number is tried, and a larger tank may be filled as before.
    const withIt = Math.min(minutes, work.minutes);
    return [{ ...addition, minutes: withIt, gainFrac: minutes / withIt - 1 }];
  });
}

interface Try extends Omit<Gain, "minutes" | "gainFrac"> {
  readonly with: Partial<OutfitInput>;
}

function triesOf(outfit: OutfitInput, tenderPlaces: number): Try[] {
  const { type, tender, method } = outfit;
  const { power } = type;
  const tries: Try[] = [aircraftTry(outfit, tenderPlaces)];
  if (power.source === "battery") {
    tries.push({ addition: "batterySet", becomes: outfit.batterySets + 1, with: anotherSet(outfit) });
    tries.push(chargingTry(outfit, power.chargeKw));
  }
  const points = tender.loadingPoints + 1;
  tries.push({ addition: "loadingPoint", becomes: points, with: { tender: { ...tender, loadingPoints: points } } });
  // Granules are neither mixed nor pumped.
  if (method === "liquid") {
    const pumpLPerMin = tender.pumpLPerMin * larger;
    const mixLPerMin = tender.mixLPerMin * larger;
    tries.push({ addition: "pump", becomes: pumpLPerMin, with: { tender: { ...tender, pumpLPerMin } } });
    tries.push({ addition: "mixer", becomes: mixLPerMin, with: { tender: { ...tender, mixLPerMin } } });
  }
  return [...tries, ...tankTry(outfit)];
}

function aircraftTry(outfit: OutfitInput, tenderPlaces: number): Try {
  const { power, transportSlots } = outfit.type;
  const aircraftCount = outfit.aircraftCount + 1;
  const needPlaces = aircraftCount * transportSlots;
  return {
    addition: "aircraft",
    becomes: aircraftCount,
    ...(needPlaces > tenderPlaces ? { tenderPlaces: needPlaces } : {}),
    with: { aircraftCount, ...(power.source === "battery" ? anotherSet(outfit) : {}) },
  };
}

/** It comes charged. */
function anotherSet({ batterySets, fullSets }: OutfitInput): Partial<OutfitInput> {
  return { batterySets: batterySets + 1, ...(fullSets === undefined ? {} : { fullSets: fullSets + 1 }) };
}

/** Where the generator leaves bays idle, power for all of them; otherwise a bay, with the power that it takes. */
function chargingTry({ chargers, tender }: OutfitInput, chargeKw: number): Try {
  const fed = workingBays(chargers, Number.POSITIVE_INFINITY, chargeKw);
  const working = workingBays(chargers, tender.generatorKw, chargeKw);
  const withKw = (kw: number) => ({ ...tender, generatorKw: Math.max(tender.generatorKw, kw) });
  if (working < fed) {
    return { addition: "generator", becomes: fed * chargeKw, with: { tender: withKw(fed * chargeKw) } };
  }
  const needKw = (working + 1) * chargeKw;
  return {
    addition: "bay",
    becomes: working + 1,
    ...(needKw > tender.generatorKw ? { generatorKw: needKw } : {}),
    with: { chargers: [...chargers, { bays: 1, kw: chargeKw }], tender: withKw(needKw) },
  };
}

/** None where the payload fills no larger tank. */
function tankTry({ type, method, densityKgPerL }: OutfitInput): Try[] {
  const { liquid, granular } = type;
  const grown = {
    ...type,
    liquid: liquid && { ...liquid, tankL: liquid.tankL * larger },
    granular: granular && {
      ...granular,
      hopperKg: granular.hopperKg * larger,
      hopperL: granular.hopperL * larger,
    },
  };
  const nowFull = gearOf(type, method, densityKgPerL)!.fullLoad;
  const { fullLoad } = gearOf(grown, method, densityKgPerL)!;
  return fullLoad > nowFull ? [{ addition: "tank", becomes: fullLoad, with: { type: grown } }] : [];
}
