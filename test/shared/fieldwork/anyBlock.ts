import fc from "fast-check";
import { type Ground, prepareGround } from "../../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput } from "../../../shared/fieldwork/workTime.ts";
import { evenly, starField } from "../geo/shapes.ts";
import { multirotor } from "./outfits.ts";

export interface Block {
  readonly ground: Ground;
  readonly slopePct: number;
  readonly outfit: OutfitInput;
}

/** A field with bays, at any slope, and multirotors on it with more or less of everything. */
export const anyBlock: fc.Arbitrary<Block> = fc
  .record({
    area: starField,
    slopePct: evenly(0, 35),
    headlandM: fc.constantFrom(0, 0, 9, 20),
    padXM: evenly(-500, 500),
    padYM: evenly(-500, 500),
    ratePerHa: evenly(8, 45),
    tankL: evenly(14, 60),
    enduranceMin: evenly(8, 25),
    chargeMin: evenly(8, 45),
    pumpLPerMin: evenly(20, 200),
    mixLPerMin: evenly(10, 200),
    aircraftCount: fc.integer({ min: 1, max: 4 }),
    spareSets: fc.integer({ min: 0, max: 5 }),
    bays: fc.integer({ min: 1, max: 4 }),
    generatorKw: evenly(7, 40),
    loadingPoints: fc.integer({ min: 1, max: 3 }),
    onFuel: fc.boolean(),
    spreads: fc.boolean(),
  })
  .map((b) => {
    const type = {
      ...multirotor,
      liquid: { ...multirotor.liquid!, tankL: b.tankL },
      power: b.onFuel
        ? { source: "fuel" as const, enduranceMin: b.enduranceMin, reserveFrac: 0.2, refuelS: 60 }
        : { ...multirotor.power, enduranceMin: b.enduranceMin, chargeMin: b.chargeMin },
    };
    const gear = b.spreads ? type.granular! : type.liquid;
    return {
      ground: prepareGround(b.area, [[b.padXM, b.padYM]], motionOf(type, gear), {
        slopePct: b.slopePct,
        headlandM: b.headlandM,
      }),
      slopePct: b.slopePct,
      outfit: {
        method: b.spreads ? "granular" : "liquid",
        ratePerHa: b.spreads ? 4 * b.ratePerHa : b.ratePerHa,
        densityKgPerL: b.spreads ? 0.8 : 1,
        type,
        aircraftCount: b.aircraftCount,
        batterySets: b.onFuel ? 0 : b.aircraftCount + b.spareSets,
        chargers: [{ bays: b.bays, kw: 100 }],
        tender: {
          mixLPerMin: b.mixLPerMin,
          pumpLPerMin: b.pumpLPerMin,
          loadingPoints: b.loadingPoints,
          generatorKw: b.generatorKw,
        },
      },
    };
  });
