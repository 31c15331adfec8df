import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Comparison,
  compareWithBrochure,
  minuteParts,
  reasonsOf,
  reasonWords,
  sumOfComparisons,
} from "../../../shared/fieldwork/brochure.ts";
import { prepareGround } from "../../../shared/fieldwork/ground.ts";
import { motionOf, type OutfitInput, workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import { rectangle } from "../geo/shapes.ts";
import { anyJob, groundOf } from "./anyJob.ts";
import { helicopter, multirotor, sprayOutfit } from "./outfits.ts";

/** 330 x 120 m, the pad in the middle of a long side. */
function compareOn(slopePct: number, change: Partial<OutfitInput>): Comparison {
  const outfit = { ...sprayOutfit, ...change };
  const rules = { slopePct, headlandM: 0 };
  const motion = motionOf(outfit.type, outfit.type.liquid!);
  const ground = prepareGround(rectangle(0, 0, 330, 120), [[165, 0]], motion, rules);
  const work = workTimeOn(ground, outfit);
  if (!work.ok) throw new Error(`refused: ${work.limit}`);
  return compareWithBrochure({ ground, slopePct, outfit, work });
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe("a block by the brochure and by the minute, by hand", () => {
  // 39,600 m² / (11 m x 10 m/s) = 360 s. It is flown in 11 passes of 330 m, 363 s, with 10 turns of 6 s, in 2 loads of 29.7 L.
  it("one aircraft: what the brochure leaves out, part by part", () => {
    const { brochureMin, minutes, aircraftMin } = compareOn(0, {});
    expect(brochureMin).toBeCloseTo(6, 9);
    expect(aircraftMin.brochure).toBeCloseTo(6, 9);
    expect(aircraftMin.slope).toBe(0);
    expect(aircraftMin.overlap).toBeCloseTo(3 / 60, 9);
    expect(aircraftMin.slower).toBeCloseTo(0, 9);
    expect(aircraftMin.turns).toBeCloseTo(1, 9);
    // Out to a corner of the first pass, to the middle of the sixth and back twice, from a corner of the last, at 12 m/s.
    const cornerM = (pass: number) => Math.hypot(165, ((pass + 0.5) * 120) / 11);
    expect(aircraftMin.ferry).toBeCloseTo((cornerM(0) + 60 + 60 + cornerM(10)) / 12 / 60, 9);
    expect(aircraftMin.takeoffs).toBeCloseTo((2 * 20) / 60, 9);
    expect(aircraftMin.loading).toBeCloseTo((2 * 30) / 60 + 59.4 / 80, 9);
    expect(aircraftMin.changing).toBeCloseTo(0, 9);
    // Before the first load 29.7 L are mixed at 60 L/min.
    expect(aircraftMin.waitMixing).toBeCloseTo(29.7 / 60, 9);
    for (const wait of ["waitLoading", "waitBatteries", "waitChargers"] as const) {
      expect(aircraftMin[wait]).toBeCloseTo(0, 9);
    }
    // What the last minute is rounded up by.
    expect(aircraftMin.idle).toBeGreaterThanOrEqual(-1e-9);
    expect(aircraftMin.idle).toBeLessThan(1);
    expect(sum(Object.values(aircraftMin))).toBeCloseTo(minutes, 9);
  });

  it("two aircraft: half the brochure's minutes, the same on the passes; the parts are those of both", () => {
    const one = compareOn(0, {});
    const two = compareOn(0, { aircraftCount: 2 });
    expect(two.brochureMin).toBeCloseTo(3, 9);
    expect(two.aircraftMin.brochure).toBeCloseTo(one.aircraftMin.brochure, 9);
    expect(two.aircraftMin.overlap).toBeCloseTo(one.aircraftMin.overlap, 9);
    expect(sum(Object.values(two.aircraftMin))).toBeCloseTo(2 * two.minutes, 9);
  });

  it("a wet rate: 48 L/ha of 12 L/min is 600 x 12 / (48 x 11) = 13.64 km/h, 3.788 m/s, so 363 s become 958.3 s", () => {
    const { aircraftMin } = compareOn(0, { ratePerHa: 48 });
    expect(aircraftMin.slower).toBeCloseTo((3630 / (7200 / 528 / 3.6) - 363) / 60, 9);
  });

  it("a slope of 75 %: the swath covers 0.8 of itself, so the brochure's 360 s are 450 s", () => {
    // cos(atan(3 / 4)) = 4 / 5; 8.8 m take 14 passes of 330 m, 462 s.
    const { aircraftMin } = compareOn(75, { type: { ...multirotor, slopeMaxPct: 80 } });
    expect(aircraftMin.slope).toBeCloseTo(90 / 60, 9);
    expect(aircraftMin.overlap).toBeCloseTo(12 / 60, 9);
  });

  it("adds blocks that one outfit works one after the other, and names the greatest reasons first", () => {
    const both = sumOfComparisons([compareOn(0, {}), compareOn(0, { ratePerHa: 48 })]);
    expect(both.brochureMin).toBeCloseTo(12, 9);
    expect(sum(Object.values(both.aircraftMin))).toBeCloseTo(both.minutes, 9);
    const reasons = reasonsOf(both);
    expect(reasons.map(({ aircraftMin }) => aircraftMin)).toEqual(
      reasons.map(({ aircraftMin }) => aircraftMin).toSorted((a, b) => b - a),
    );
    expect(reasons[0]?.reason).toBe("slower");
    expect(reasons.map(({ reason }) => reason)).not.toContain("slope");
  });

  it("calls a change by what is changed", () => {
    expect(reasonWords("changing", multirotor)).toBe("changing sets");
    expect(reasonWords("changing", helicopter)).toBe("refuelling");
    expect(reasonWords("turns", helicopter)).toBe("turns and hops");
  });
});

describe("over blocks of all kinds", () => {
  it("no part is negative, so that they account for all of the aircraft's time and no more", () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const block = { ground: groundOf(job), slopePct: job.rules.slopePct, outfit: job.outfit };
        const work = workTimeOn(block.ground, block.outfit);
        fc.pre(work.ok);
        const { brochureMin, minutes, aircraftMin } = compareWithBrochure({ ...block, work });
        for (const part of minuteParts) expect(aircraftMin[part]).toBeGreaterThanOrEqual(-1e-9);
        expect(minutes).toBeGreaterThanOrEqual(brochureMin);
        expect(sum(Object.values(aircraftMin))).toBeCloseTo(minutes * block.outfit.aircraftCount, 6);
      }),
      { numRuns: 300 },
    );
  });

  it("one aircraft waits for the first mix, and idles for less than the minute that is rounded up", () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const { outfit: any } = job;
        const { slopePct } = job.rules;
        const ground = groundOf(job);
        const outfit = { ...any, aircraftCount: 1 };
        const work = workTimeOn(ground, outfit);
        fc.pre(work.ok);
        const { aircraftMin } = compareWithBrochure({ ground, slopePct, outfit, work });
        const firstMixMin = outfit.method === "liquid" ? work.detail.loadSize / outfit.tender.mixLPerMin : 0;
        expect(aircraftMin.waitMixing).toBeGreaterThanOrEqual(firstMixMin - 1e-6);
        expect(aircraftMin.idle).toBeGreaterThanOrEqual(-1e-6);
        expect(aircraftMin.idle).toBeLessThan(1);
      }),
      { numRuns: 300 },
    );
  });
});
