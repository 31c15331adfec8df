import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type WorkDetail,
  type WorkInput,
  type WorkOutcome,
  workingBays,
  workTime,
} from "../../../shared/fieldwork/workTime.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import type { WorkDetail as PlanWorkDetail } from "../../../shared/plan/plan.ts";
import { evenly, rectangle } from "../geo/shapes.ts";
import { baltinExample, baltinSPerHa } from "./baltin.ts";
import { helicopter, multirotor, orchard, plainRules, sprayOutfit, spreadOutfit } from "./outfits.ts";

function worked(outcome: WorkOutcome): WorkOutcome & { ok: true } {
  if (!outcome.ok) throw new Error(`refused: ${outcome.limit}`);
  return outcome;
}

describe("a block worked out by hand", () => {
  // 330 x 120 m, 3.96 ha; the pad in the middle of a long side. 11 m swath: 120 / 11 = 10.9, 11 passes of 330 m, 10 turns.
  const area = rectangle(0, 0, 330, 120);
  const pads: PointXY[] = [[165, 0]];
  const { minutes, detail } = worked(workTime({ ...sprayOutfit, rules: plainRules, area, pads }));

  it("two loads of 29.7 L: 3.96 ha x 15 L/ha = 59.4 L of 40 L tanks", () => {
    expect(detail).toMatchObject({ passes: 11, loads: 2, speedMps: 10, batteryChanges: 0 });
    expect(detail.amount).toBeCloseTo(59.4, 9);
    expect(detail.loadSize).toBeCloseTo(29.7, 9);
    expect(detail.passKm).toBeCloseTo(3.63, 9);
    expect(detail.headingDeg).toBeCloseTo(90, 9);
  });

  it("ferry is the way to where each of two sorties begins and breaks off", () => {
    // Half of 11 passes is the middle of the sixth: the first sortie goes from the outer corner of the first pass to the middle
    // of the field, 60 m from the pad, the second from there to the outer corner of the last one. No turn is saved.
    const cornerM = (pass: number) => Math.hypot(165, ((pass + 0.5) * 120) / 11);
    const ferryM = cornerM(0) + 60 + 60 + cornerM(10);
    expect(detail.ferryMin).toBeCloseTo((ferryM / 12 + 2 * 20) / 60, 9);
    expect(detail.sprayMin).toBeCloseTo(363 / 60, 9);
    expect(detail.turnMin).toBeCloseTo(1, 9);
    // 30 s and 29.7 L at 80 L/min for each of two loads.
    expect(detail.groundMin).toBeCloseTo((2 * (30 + (29.7 / 80) * 60)) / 60, 9);
  });

  it("minutes: mixing the first load, two loads, two sorties, rounded up; one set lasts 9.6 min, so no change", () => {
    const airS = 60 * (detail.sprayMin + detail.turnMin + detail.ferryMin);
    expect(airS).toBeLessThan(9.6 * 60);
    const byHandS = (29.7 / 60) * 60 + 60 * detail.groundMin + airS;
    expect(minutes).toBe(Math.ceil(byHandS / 60));
    expect(detail.rateHaPerHour).toBeCloseTo((3.96 * 60) / minutes, 9);
    expect(detail.bottleneck).toBe("aircraft");
  });
});

describe("refusals say what was measured against what", () => {
  const area = rectangle(0, 0, 400, 200);
  const pads: PointXY[] = [[0, 0]];
  const tryWith = (change: Partial<WorkInput>) =>
    workTime({ ...sprayOutfit, rules: plainRules, area, pads, ...change });

  it("method", () => {
    const outcome = tryWith({ type: helicopter, method: "granular" });
    expect(outcome).toEqual({ ok: false, limit: "method", actual: "granular", allowed: ["liquid"] });
  });
  it("rate", () => {
    expect(tryWith({ ratePerHa: 61 })).toMatchObject({ ok: false, limit: "rate", allowed: 12, unit: "L/min" });
    expect(tryWith({ ...spreadOutfit, ratePerHa: 2000 })).toMatchObject({
      limit: "rate",
      allowed: 110,
      unit: "kg/min",
    });
  });
  it("batteries", () => {
    const outcome = tryWith({ aircraftCount: 3, batterySets: 2 });
    expect(outcome).toEqual({ ok: false, limit: "batteries", actual: 2, allowed: 3, unit: "sets" });
  });
  it("chargers, by bays or by the generator", () => {
    const refusal = { ok: false, limit: "chargers", actual: 0, allowed: 1, unit: "bays" };
    expect(tryWith({ chargers: [] })).toEqual(refusal);
    expect(tryWith({ tender: { ...sprayOutfit.tender, generatorKw: 6.9 } })).toEqual(refusal);
  });
  it("range", () => {
    // 4 km out and back at 12 m/s is 11.1 min of 9.6.
    expect(tryWith({ type: multirotor, pads: [[-4000, 0]] })).toMatchObject({
      ok: false,
      limit: "range",
      allowed: expect.closeTo(12 * 0.8, 9),
      unit: "min",
    });
  });
  it("fuel types ask for neither sets nor bays", () => {
    expect(tryWith({ type: helicopter, ratePerHa: 40, batterySets: 0, chargers: [] }).ok).toBe(true);
  });
});

describe("bays that work at once", () => {
  it("are limited by each charger's bays and power and by the generator: min(2, 2) + min(4, 1) = 3 of 20 / 7 = 2", () => {
    const chargers = [
      { bays: 2, kw: 15 },
      { bays: 4, kw: 10 },
    ];
    expect(workingBays(chargers, 100, 7)).toBe(3);
    expect(workingBays(chargers, 20, 7)).toBe(2);
    expect(workingBays([], 20, 7)).toBe(0);
  });
});

describe("the pad", () => {
  it("is the one from which the work takes least", () => {
    const pads: PointXY[] = [
      [-800, 0],
      [200, -10],
      [400, 900],
    ];
    const outcome = worked(workTime({ ...sprayOutfit, rules: plainRules, area: rectangle(0, 0, 400, 200), pads }));
    expect(outcome.padIndex).toBe(1);
  });
});

describe("rules of thumb (common practice, no source)", () => {
  it("40 L at 15 L/ha cover 2.67 ha a load", () => {
    const area = rectangle(0, 0, 800, 400);
    const { detail } = worked(workTime({ ...sprayOutfit, rules: plainRules, area, pads: [[400, -5]] }));
    expect(40 / 15).toBeCloseTo(2.67, 2);
    expect(detail.loads).toBeGreaterThanOrEqual(32 / (40 / 15));
    expect(detail.loadSize).toBeLessThanOrEqual(40);
  });

  it("11 m, 10 m/s, 40 L, 12 L/min, 15 L/ha do about 20 ha an hour on large fields", () => {
    const area = rectangle(0, 0, 800, 400);
    const { detail } = worked(workTime({ ...sprayOutfit, rules: plainRules, area, pads: [[400, -5]] }));
    console.log(`spraying: ${detail.rateHaPerHour.toFixed(1)} ha/h`);
    expect(detail.rateHaPerHour).toBeGreaterThan(15);
    expect(detail.rateHaPerHour).toBeLessThan(25);
  });

  it("the same aircraft in an orchard at 150 L/ha does about 20 ha in seven hours, the flow limit ruling its speed", () => {
    const { minutes, detail } = worked(workTime({ ...orchard, rules: { ...plainRules, headingDeg: 90 } }));
    // 600 x 12 / (150 x 11) = 4.36 km/h.
    expect(detail.speedMps * 3.6).toBeCloseTo(4.36, 2);
    console.log(
      `orchard: 20 ha in ${(minutes / 60).toFixed(1)} h, ${detail.loads} loads, waiting for ${detail.bottleneck}`,
    );
    expect(minutes / 60).toBeGreaterThan(5.5);
    expect(minutes / 60).toBeLessThan(9);
  });

  it("spreading with loads of 50 kg moves about 1.5 t an hour", () => {
    const area = rectangle(0, 0, 300, 150);
    const { minutes, detail } = worked(workTime({ ...spreadOutfit, rules: plainRules, area, pads: [[150, -5]] }));
    const tPerHour = (detail.amount / 1000 / minutes) * 60;
    console.log(`spreading: ${tPerHour.toFixed(2)} t/h in ${detail.loads} loads`);
    expect(tPerHour).toBeGreaterThan(1);
    expect(tPerHour).toBeLessThan(2);
  });
});

describe("Baltin's formula", () => {
  it("gives 41.0 s/ha for its example (COMPUTED)", () => {
    expect(baltinSPerHa(baltinExample)).toBeCloseTo(41, 9);
  });

  it("is never beaten by one aircraft, but for the turns that begin and end of a sortie save", () => {
    const size = evenly(100, 1500);
    fc.assert(
      fc.property(size, size, evenly(20, 60), evenly(-500, 500), (lengthM, widthM, ratePerHa, padM) => {
        fc.pre(lengthM >= widthM);
        const area = rectangle(0, 0, lengthM, widthM);
        const pads: PointXY[] = [[padM, -20]];
        const { minutes, detail } = worked(
          workTime({ ...sprayOutfit, rules: plainRules, type: helicopter, ratePerHa, area, pads }),
        );
        const { swathM, tankL } = helicopter.liquid!;
        const { takeoffLandingS, ferrySpeedMps } = helicopter;
        const fieldHa = (lengthM * widthM) / 10_000;
        const sPerHa = baltinSPerHa({
          rateLPerHa: ratePerHa,
          loadL: tankL,
          groundPerLoadS: takeoffLandingS + helicopter.loadS + (tankL / sprayOutfit.tender.pumpLPerMin) * 60,
          // The mean way of its own sorties.
          stripToFieldM: ((detail.ferryMin * 60) / detail.loads - takeoffLandingS) * (ferrySpeedMps / 2),
          ferryMps: ferrySpeedMps,
          sprayMps: detail.speedMps,
          swathM,
          runM: lengthM,
          turnS: helicopter.turnS,
          nextFieldM: 0,
          fieldHa,
        });
        expect(minutes * 60 + detail.loads * helicopter.turnS).toBeGreaterThanOrEqual(sPerHa * fieldHa);
        expect(minutes * 60).toBeLessThan(sPerHa * fieldHa * 1.6 + 600);
      }),
    );
  });
});

describe("work detail", () => {
  it("has the shape of the plan's work detail", () => {
    const detail: WorkDetail = worked(
      workTime({ ...sprayOutfit, rules: plainRules, area: rectangle(0, 0, 300, 100), pads: [[0, 0]] }),
    ).detail;
    const planned: PlanWorkDetail = detail;
    const back: WorkDetail = planned;
    expect(back).toBe(detail);
  });
});
