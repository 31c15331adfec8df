import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bottleneckShort, bottleneckWords, gainWords } from "../../../shared/fieldwork/bottleneckWords.ts";
import type { Worked } from "../../../shared/fieldwork/brochure.ts";
import { type Addition, additions, type Gain, gainsOf } from "../../../shared/fieldwork/gains.ts";
import type { Ground } from "../../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput, workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import { anyJob, groundOf } from "./anyJob.ts";
import { helicopter, multirotor, sprayOutfit, spreadOutfit } from "./outfits.ts";

/**
 * 19,200 m of passes at 10 m/s under the pad: no ferry, no turn, 160 s of taking off and landing. A swath of 11 m makes it 21.12 ha;
 * at 320 L in all, tanks of 40 L take 8 loads of 240 s + 160 s = 400 s in the air. A set lasts 500 s x 0.8 = 400 s: one sortie, after which it takes a whole charge.
 */
const type: OutfitInput["type"] = {
  ...multirotor,
  takeoffLandingS: 160,
  power: { source: "battery", enduranceMin: 500 / 60, reserveFrac: 0.2, swapS: 30, chargeMin: 10, chargeKw: 7 },
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

const manyPlaces = 6;

function gainOf(input: OutfitInput, addition: Addition): Gain | undefined {
  return gainsOf(ground, input, workOf(input).minutes, manyPlaces).find((gain) => gain.addition === addition);
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

  it("an aircraft that the tender has no place for asks for a tender that has", () => {
    const withPlaces = (places: number, transportSlots: number) =>
      gainsOf(ground, { ...outfit, type: { ...type, transportSlots } }, 77, places)[0];
    expect(withPlaces(4, 2)).toEqual({ addition: "aircraft", becomes: 2, minutes: 67, gainFrac: 77 / 67 - 1 });
    expect(withPlaces(3, 2)).toMatchObject({ becomes: 2, tenderPlaces: 4 });
    // What flies there by itself takes no place.
    expect(withPlaces(0, 0)).not.toHaveProperty("tenderPlaces");
  });

  it("is told in words, first what gains most, then without another aircraft", () => {
    const work = workOf(outfit);
    expect(gainWords(outfit, work, gainsOf(ground, outfit, work.minutes, manyPlaces))).toBe(
      "a second aircraft with a battery set (15 %); without it a third battery set (15 %), a second bay with a generator of 14 kW (8 %)",
    );
    expect(gainWords(outfit, work, gainsOf(ground, outfit, work.minutes, 1))).toContain(
      "a second aircraft with a battery set and a tender that has a place for it (15 %)",
    );
  });

  it("says what is waited for: 550 s of 4590 s are waits for the bay, 12 %", () => {
    // 660 s of waits in all: 4590 - 40 - 8 x 460 - 7 x 30. The first, 110 s, is for a set that charges without having queued.
    const work = workOf(outfit);
    expect(bottleneckWords(outfit, work)).toBe("chargers: the aircraft waits 12 % of its time for a free bay");
    expect(bottleneckShort(outfit, work)).toBe("chargers");
  });
});

describe("gains in words", () => {
  const work = workOf(outfit);
  const pump: Gain = { addition: "pump", becomes: 100, minutes: 70, gainFrac: 0.1 };

  it("says plainly when nothing gains", () => {
    expect(gainWords(outfit, work, [{ ...pump, minutes: 77, gainFrac: 0.004 }])).toBe(
      "nothing more in the outfit makes it quicker",
    );
  });

  it("tells the largest first, and counts past ten without an ordinal", () => {
    const gains: Gain[] = [
      { addition: "loadingPoint", becomes: 12, minutes: 73, gainFrac: 0.05 },
      { addition: "batterySet", becomes: 8, minutes: 69, gainFrac: 0.12 },
      { addition: "aircraft", becomes: 2, minutes: 76, gainFrac: 0.01 },
      pump,
    ];
    expect(gainWords(outfit, work, gains)).toBe(
      "an eighth battery set (12 %); then a faster pump of 100 L/min (10 %), one more loading point (5 %)",
    );
  });

  it("tells minutes of work that takes under half an hour, one of 23 would be 5 %, and of work that is more than halved", () => {
    const gain: Gain = { ...pump, minutes: 22, gainFrac: 23 / 22 - 1 };
    expect(gainWords(outfit, { ...work, minutes: 23 }, [gain])).toBe(
      "a faster pump of 100 L/min (22 instead of 23 min)",
    );
    expect(gainWords(outfit, { ...work, minutes: 30 }, [pump])).toContain("(10 %)");
    const halving: Gain = { ...pump, minutes: 37, gainFrac: 77 / 37 - 1 };
    expect(gainWords(outfit, work, [halving])).toBe("a faster pump of 100 L/min (37 instead of 77 min)");
  });
});

describe("what busy aircraft are at, in words", () => {
  /** 100 min of one aircraft, by hand: 8 loads are 8 x 30 s and 320 L at 80 L/min, 8 min; 8 x 160 s are 21.3 min of the 30. */
  const work = workOf(outfit);
  const busy: Worked = {
    ...work,
    detail: { ...work.detail, bottleneck: "aircraft", sprayMin: 40, turnMin: 5, ferryMin: 30, groundMin: 22, loads: 8 },
    use: { ...work.use, aircraftFrac: 0.97 },
    waitMin: { loading: 0.2, mixing: 0, batteries: 0, chargers: 0 },
  };

  it("names the two that take the longest, with no wait that makes no percent", () => {
    expect(bottleneckWords(outfit, busy)).toBe(
      "aircraft: it is at work 97 % of the time (on passes 40 %, take-offs 21 %)",
    );
    expect(bottleneckShort(outfit, busy)).toBe("aircraft (on passes 40 %)");
  });

  it("names loading before the passes when it takes longer: 75 s for a load and 8 of them are 10 min, 4 of pumping", () => {
    const slow = { ...outfit, type: { ...type, loadS: 75 } };
    const wet = { ...busy, detail: { ...busy.detail, sprayMin: 12, ferryMin: 22, turnMin: 8 } };
    // 64 min at work are 97 % of 66: 14 of loading are 21 %, 21.3 of taking off 32 %.
    expect(bottleneckWords(slow, wet)).toContain("(take-offs 32 %, loading 21 %)");
  });

  it("speaks of several aircraft as several, with waits and with what they stand idle", () => {
    const waiting = { ...busy, waitMin: { ...busy.waitMin, loading: 3 }, use: { ...busy.use, aircraftFrac: 0.9 } };
    // 97 min are 90 % of 107.8: 3 are 3 %, the rest 7 %.
    expect(bottleneckWords({ ...outfit, aircraftCount: 2 }, waiting)).toBe(
      "aircraft: they are at work 90 % of the time (on passes 37 %, take-offs 20 %), wait 3 %, are idle at the end 7 %",
    );
  });
});

describe("over blocks of all kinds", () => {
  it("a gain is never negative, and is the minutes that the outfit takes with the thing in it", () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const block = { ground: groundOf(job), outfit: job.outfit };
        const before = workTimeOn(block.ground, block.outfit);
        fc.pre(before.ok);
        const gains = gainsOf(block.ground, block.outfit, before.minutes, manyPlaces);
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
      return gainsOf(own, input, 100, manyPlaces).map(({ addition }) => addition);
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
