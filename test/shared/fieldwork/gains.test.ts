import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bottleneckWords } from "../../../shared/fieldwork/bottleneckWords.ts";
import type { Worked } from "../../../shared/fieldwork/brochure.ts";
import { type Addition, additions, type Gain, gainsOf } from "../../../shared/fieldwork/gains.ts";
import type { Ground } from "../../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput, workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import { anyBlock } from "./anyBlock.ts";
import { helicopter, multirotor, sprayOutfit, spreadOutfit } from "./outfits.ts";

/**
 * 19,200 m of passes at 10 m/s under the pad: no ferry, no turn, 160 s of taking off and landing. A swath of 11 m makes it 21.12 ha;
 * at 320 L in all, tanks of 40 L take 8 loads of 240 s + 160 s = 400 s in the air. A set lasts 8.75 min x 0.8 = 420 s: one sortie.
 */
const type: OutfitInput["type"] = {
  ...multirotor,
  takeoffLandingS: 160,
  power: { source: "battery", enduranceMin: 8.75, reserveFrac: 0.2, swapS: 30, chargeMin: 10, chargeKw: 7 },
};
const ground: Ground = {
  areaHa: 21.12,
  motion: motionOf(type, type.liquid!),
  swathPlan: {
    headingDeg: 0,
    headingRad: 0,
    passes: 1,
    turns: 0,
    passM: 19_200,
    hopM: 0,
    overlapFrac: 0,
    legs: [{ pass: 0, from: [0, 0], to: [0, 0], lengthM: 19_200, turns: 0, hopM: 0 }],
  },
  pads: [
    {
      farthestM: 0,
      legs: () => [],
      sums: () => ({ ferryM: 0, turns: 0, hopM: 0 }),
      beside: {
        eachS: (loads) => new Float64Array(loads).fill(160),
        sumS: (loads) => 160 * loads,
        leastSumS: (loads) => 160 * loads,
      },
    },
  ],
};
const outfit: OutfitInput = {
  ...sprayOutfit,
  ratePerHa: 320 / 21.12,
  type,
  batterySets: 2,
  chargers: [{ bays: 1, kw: 15 }],
  tender: { mixLPerMin: 60, pumpLPerMin: 80, loadingPoints: 1, generatorKw: 7 },
};

function workOf(input: OutfitInput): Worked {
  const work = workTimeOn(ground, input);
  if (!work.ok) throw new Error(`refused: ${work.limit}`);
  return work;
}

function gainOf(input: OutfitInput, addition: Addition): Gain | undefined {
  return gainsOf(ground, input, workOf(input).minutes).find((gain) => gain.addition === addition);
}

describe("one more of each thing, by hand", () => {
  // The first load is mixed after 40 s, loaded in 30 + 30 s and down at 500 s. The one bay then charges without a break, 600 s a set;
  // the eighth sortie flies on the set that is charged sixth: 500 + 6 x 600 = 4100 s, 30 s to change, 60 s to load, 400 s in the air.
  it("as it is: 4590 s, 77 min", () => {
    expect(workOf(outfit)).toMatchObject({ minutes: 77, detail: { loads: 8, batteryChanges: 7 } });
  });

  it("a third set: the eighth sortie waits for five charges, 3990 s, 67 min, 77 / 67 = 1.149", () => {
    expect(gainOf(outfit, "batterySet")).toMatchObject({ becomes: 3, minutes: 67, gainFrac: expect.closeTo(0.149, 3) });
  });

  it("a second bay: 71 min, 77 / 71 = 1.085, with 14 kW for two sets", () => {
    // Two sets in turn: down at 500 and 990 s, full at 1100 and 1590; each pair of sorties then takes 490 + 600 = 1090 s.
    // The sixth set that is charged is full at 990 + 600 + 2 x 1090 = 3770 s, 490 s later is 4260 s.
    expect(gainOf(outfit, "bay")).toMatchObject({
      becomes: 2,
      generatorKw: 14,
      minutes: 71,
      gainFrac: expect.closeTo(0.085, 3),
    });
    const strong = { ...outfit, tender: { ...outfit.tender, generatorKw: 20 } };
    expect(gainOf(strong, "bay")).toEqual({ addition: "bay", becomes: 2, minutes: 71, gainFrac: 77 / 71 - 1 });
  });

  it("power for a bay that stands idle is asked for in place of another bay", () => {
    const idle = { ...outfit, chargers: [{ bays: 2, kw: 15 }] };
    expect(gainOf(idle, "generator")).toMatchObject({ becomes: 14, minutes: 71 });
    expect(gainOf(idle, "bay")).toBeUndefined();
    expect(gainOf(outfit, "generator")).toBeUndefined();
  });

  it("a second aircraft brings a set: as long as with the third set, the one bay still rules", () => {
    expect(gainOf(outfit, "aircraft")).toMatchObject({ becomes: 2, minutes: 67 });
  });

  it("pump, mixer, loading point, tank: nothing, the bay still rules", () => {
    // 6 s less at the pump twice, or 8 s less for the first mix: 4578 and 4582 s are still 77 min. 50 L would fly 434 s, beyond the set.
    for (const addition of ["pump", "mixer", "loadingPoint", "tank"] as const) {
      expect(gainOf(outfit, addition)).toMatchObject({ minutes: 77, gainFrac: 0 });
    }
    expect(gainOf(outfit, "pump")?.becomes).toBe(100);
    expect(gainOf(outfit, "mixer")?.becomes).toBe(75);
    expect(gainOf(outfit, "tank")?.becomes).toBe(50);
  });

  it("a tank grows no larger than the payload lifts", () => {
    const lifts = (payloadKg: number) => gainOf({ ...outfit, type: { ...type, payloadKg } }, "tank");
    expect(lifts(46)?.becomes).toBe(46);
    expect(lifts(40)).toBeUndefined();
  });

  it("is told in words: 550 s of 4620 s are waits for the bay, 12 %", () => {
    // 660 s of waits in all: 4590 - 40 - 8 x 460 - 7 x 30. The first, 110 s, is for a set that charges without having queued.
    const work = workOf(outfit);
    expect(bottleneckWords(outfit, work, gainsOf(ground, outfit, work.minutes))).toBe(
      "chargers: the aircraft waits 12 % of its time for a free bay; a second aircraft with a battery set gains 15 %, " +
        "a third battery set 15 %, a second bay with a generator of 14 kW 8 %",
    );
  });
});

describe("bottleneck in words", () => {
  const work = workOf(outfit);
  const busy: Worked = {
    ...work,
    detail: { ...work.detail, bottleneck: "aircraft" },
    use: { ...work.use, aircraftFrac: 0.968 },
    waitMin: { loading: 0.2, mixing: 0, batteries: 0, chargers: 0 },
  };

  it("says plainly when nothing gains", () => {
    const nothing: Gain[] = [{ addition: "pump", becomes: 100, minutes: 77, gainFrac: 0.004 }];
    expect(bottleneckWords(outfit, busy, nothing)).toBe(
      "aircraft: it is at work 97 % of the time and hardly waits; nothing more in the outfit makes it quicker",
    );
  });

  it("speaks of several aircraft as several, and counts past ten without an ordinal", () => {
    const two = { ...outfit, aircraftCount: 2 };
    const waiting = { ...busy, waitMin: { ...busy.waitMin, loading: 3.08 } };
    const gains: Gain[] = [
      { addition: "batterySet", becomes: 8, minutes: 70, gainFrac: 0.1 },
      { addition: "loadingPoint", becomes: 12, minutes: 70, gainFrac: 0.05 },
    ];
    // 3.08 of 2 x 77 min.
    expect(bottleneckWords(two, waiting, gains)).toBe(
      "aircraft: they are at work 97 % of the time and wait 2 % of it; an eighth battery set gains 10 %, one more loading point 5 %",
    );
  });
});

describe("over blocks of all kinds", () => {
  it("a gain is never negative, and is the minutes that the outfit takes with the thing in it", () => {
    fc.assert(
      fc.property(anyBlock, (block) => {
        const before = workTimeOn(block.ground, block.outfit);
        fc.pre(before.ok);
        const gains = gainsOf(block.ground, block.outfit, before.minutes);
        for (const { minutes, gainFrac } of gains) {
          expect(gainFrac).toBeGreaterThanOrEqual(0);
          expect((1 + gainFrac) * minutes).toBeCloseTo(before.minutes, 9);
        }
        const named = gains.map(({ addition }) => addition);
        expect(named).toEqual(additions.filter((addition) => named.includes(addition)));
      }),
      { numRuns: 200 },
    );
  });

  it("what an outfit has no use for is left out", () => {
    const named = (input: OutfitInput) => {
      const gear = input.method === "liquid" ? input.type.liquid! : input.type.granular!;
      const own = { ...ground, motion: motionOf(input.type, gear) };
      return gainsOf(own, input, 100).map(({ addition }) => addition);
    };
    expect(named({ ...outfit, type: { ...helicopter, payloadKg: 400 } })).toEqual([
      "aircraft",
      "loadingPoint",
      "pump",
      "mixer",
      "tank",
    ]);
    expect(named({ ...spreadOutfit, type: { ...multirotor, payloadKg: 60 } })).toEqual([
      "aircraft",
      "batterySet",
      "bay",
      "loadingPoint",
      "tank",
    ]);
  });
});
