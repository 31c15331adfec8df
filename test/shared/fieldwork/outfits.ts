import type { OutfitInput, WorkInput } from "../../../shared/fieldwork/workTime.ts";
import { type AircraftType, aircraftTypeSchema } from "../../../shared/model/fleet.ts";
import { rectangle } from "../geo/shapes.ts";

/** An invented multirotor of the 40 L class. */
export const multirotor: AircraftType = aircraftTypeSchema.parse({
  id: "M40",
  name: "Multirotor 40",
  kind: "multirotor",
  liquid: {
    tankL: 40,
    swathM: 11,
    speedMinMps: 3,
    speedMaxMps: 10,
    flowMaxLPerMin: 12,
    dropletMinUm: 50,
    dropletMaxUm: 500,
  },
  granular: { hopperKg: 50, hopperL: 70, swathM: 7, speedMinMps: 2, speedMaxMps: 10, spreadMaxKgPerMin: 110 },
  payloadKg: 50,
  ferrySpeedMps: 12,
  turnS: 6,
  takeoffLandingS: 20,
  loadS: 30,
  power: { source: "battery", enduranceMin: 12, reserveFrac: 0.2, swapS: 30, chargeMin: 10, chargeKw: 7 },
  windMaxKph: 28,
  gustMaxKph: 36,
  slopeMaxPct: 40,
  releaseHeightM: 3,
  transportSlots: 1,
  methodChangeMin: 15,
  setupMin: 10,
  packupMin: 8,
  runningCentsPerHour: 3000,
});

/** An invented light helicopter. */
export const helicopter: AircraftType = aircraftTypeSchema.parse({
  ...multirotor,
  id: "H300",
  name: "Helicopter 300",
  kind: "helicopter",
  liquid: {
    tankL: 300,
    swathM: 18,
    speedMinMps: 12,
    speedMaxMps: 30,
    flowMaxLPerMin: 180,
    dropletMinUm: 150,
    dropletMaxUm: 700,
  },
  granular: undefined,
  payloadKg: 320,
  ferrySpeedMps: 35,
  turnS: 20,
  takeoffLandingS: 40,
  loadS: 40,
  power: { source: "fuel", enduranceMin: 110, reserveFrac: 0.2, refuelS: 300 },
  transportSlots: 0,
});

/** Level ground without headland, the heading free. */
export const plainRules: WorkInput["rules"] = { slopePct: 0, headlandM: 0 };

export const sprayOutfit: OutfitInput = {
  method: "liquid",
  ratePerHa: 15,
  densityKgPerL: 1,
  type: multirotor,
  aircraftCount: 1,
  batterySets: 4,
  chargers: [{ bays: 2, kw: 15 }],
  tender: { mixLPerMin: 60, pumpLPerMin: 80, loadingPoints: 1, generatorKw: 20 },
};

export const spreadOutfit: OutfitInput = {
  ...sprayOutfit,
  method: "granular",
  ratePerHa: 150,
  densityKgPerL: 0.8,
};

/** 20 ha of orchard in rows of 400 m, sprayed from two pads by the same aircraft, which may be as slow as 1 m/s between trees. */
export const orchard: Omit<WorkInput, "rules"> = {
  ...sprayOutfit,
  ratePerHa: 150,
  batterySets: 6,
  type: { ...multirotor, liquid: { ...multirotor.liquid!, speedMinMps: 1 } },
  area: rectangle(0, 0, 400, 500),
  pads: [
    [-5, 125],
    [-5, 375],
  ],
};
