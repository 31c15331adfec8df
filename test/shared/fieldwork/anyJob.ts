import fc from "fast-check";
import { type Ground, type GroundRules, prepareGround } from "../../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput } from "../../../shared/fieldwork/workTime.ts";
import type { AreaXY, PointXY } from "../../../shared/geo/plane.ts";
import { evenly, starField } from "../geo/shapes.ts";
import { multirotor } from "./outfits.ts";

export interface Job {
  readonly area: AreaXY;
  readonly pads: readonly PointXY[];
  readonly rules: GroundRules;
  readonly outfit: OutfitInput;
}

/** A field with bays, on any slope, with or without headland and rows, and multirotors on it with more or less of everything. */
export const anyJob: fc.Arbitrary<Job> = fc
  .record({
    area: starField,
    pads: fc.array(fc.tuple(evenly(-600, 600), evenly(-600, 600)), { minLength: 1, maxLength: 2 }),
    slopePct: fc.oneof(fc.constant(0), evenly(0, 35)),
    headlandM: fc.constantFrom(0, 0, 9, 20),
    headingDeg: fc.option(evenly(0, 180), { nil: undefined }),
    ratePerHa: evenly(8, 60),
    flowMaxLPerMin: evenly(12, 40),
    tankL: evenly(10, 60),
    enduranceMin: evenly(8, 30),
    turnS: evenly(0, 12),
    loadS: evenly(5, 90),
    chargeMin: evenly(8, 45),
    swapS: evenly(10, 120),
    pumpLPerMin: evenly(20, 200),
    mixLPerMin: evenly(10, 200),
    aircraftCount: fc.integer({ min: 1, max: 4 }),
    spareSets: fc.integer({ min: 0, max: 6 }),
    bays: fc.integer({ min: 1, max: 4 }),
    generatorKw: evenly(20, 100),
    loadingPoints: fc.integer({ min: 1, max: 3 }),
    onFuel: fc.boolean(),
    spreads: fc.boolean(),
  })
  .map(({ area, pads, slopePct, headlandM, headingDeg, ...j }) => ({
    area,
    pads,
    rules: { slopePct, headlandM, headingDeg },
    outfit: {
      method: j.spreads ? "granular" : "liquid",
      ratePerHa: j.spreads ? 4 * j.ratePerHa : j.ratePerHa,
      densityKgPerL: j.spreads ? 0.8 : 1,
      type: {
        ...multirotor,
        liquid: { ...multirotor.liquid!, tankL: j.tankL, flowMaxLPerMin: j.flowMaxLPerMin, speedMinMps: 1 },
        granular: { ...multirotor.granular!, hopperKg: j.tankL },
        payloadKg: 80,
        turnS: j.turnS,
        loadS: j.loadS,
        power: j.onFuel
          ? { source: "fuel", enduranceMin: j.enduranceMin, reserveFrac: 0.2, refuelS: j.swapS }
          : {
              source: "battery",
              enduranceMin: j.enduranceMin,
              reserveFrac: 0.2,
              swapS: j.swapS,
              chargeMin: j.chargeMin,
              chargeKw: 5,
            },
      },
      aircraftCount: j.aircraftCount,
      batterySets: j.onFuel ? 0 : j.aircraftCount + j.spareSets,
      chargers: [{ bays: j.bays, kw: 100 }],
      tender: {
        mixLPerMin: j.mixLPerMin,
        pumpLPerMin: j.pumpLPerMin,
        loadingPoints: j.loadingPoints,
        generatorKw: j.generatorKw,
      },
    },
  }));

export function groundOf({ area, pads, rules, outfit: { type, method } }: Job): Ground {
  return prepareGround(area, pads, motionOf(type, method === "liquid" ? type.liquid! : type.granular!), rules);
}
