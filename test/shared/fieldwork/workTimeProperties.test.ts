import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gearOf } from "../../../shared/fieldwork/flow.ts";
import { type OutfitInput, type WorkOutcome, workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import { difference } from "../../../shared/geo/clip.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import { degFromRad } from "../../../shared/units/units.ts";
import { evenly, move, rectangle, turn, turnPoint } from "../geo/shapes.ts";
import { anyJob, groundOf, type Job } from "./anyJob.ts";

/** Of larger blocks not every number of loads is tried, and a minute may be lost. */
const loadsMost = 80;

function worked(outcome: WorkOutcome): WorkOutcome & { ok: true } {
  if (!outcome.ok) throw new Error(`refused: ${outcome.limit}`);
  return outcome;
}

function withTanks(type: AircraftType, times: number): AircraftType {
  return {
    ...type,
    liquid: { ...type.liquid!, tankL: type.liquid!.tankL * times },
    granular: { ...type.granular!, hopperKg: type.granular!.hopperKg * times },
  };
}

describe("work time, over jobs of all kinds", () => {
  const better: [string, (outfit: OutfitInput) => OutfitInput][] = [
    ["an aircraft with its set", (o) => ({ ...o, aircraftCount: o.aircraftCount + 1, batterySets: o.batterySets + 1 })],
    ["a battery set", (o) => ({ ...o, batterySets: o.batterySets + 1 })],
    ["a charger", (o) => ({ ...o, chargers: [...o.chargers, { bays: 1, kw: 5 }] })],
    ["a larger tank", (o) => ({ ...o, type: withTanks(o.type, 1.17) })],
    [
      "longer endurance",
      (o) => ({
        ...o,
        type: { ...o.type, power: { ...o.type.power, enduranceMin: o.type.power.enduranceMin * 1.13 } },
      }),
    ],
    ["a faster pump", (o) => ({ ...o, tender: { ...o.tender, pumpLPerMin: o.tender.pumpLPerMin * 1.2 } })],
    ["faster mixing", (o) => ({ ...o, tender: { ...o.tender, mixLPerMin: o.tender.mixLPerMin * 1.2 } })],
    ["a loading point", (o) => ({ ...o, tender: { ...o.tender, loadingPoints: o.tender.loadingPoints + 1 } })],
    ["less to spray", (o) => ({ ...o, ratePerHa: o.ratePerHa * 0.93 })],
  ];
  for (const [name, change] of better) {
    it(`${name} never makes it longer`, () => {
      fc.assert(
        fc.property(anyJob, (job) => {
          const ground = groundOf(job);
          const before = workTimeOn(ground, job.outfit);
          fc.pre(before.ok && before.detail.loads <= loadsMost);
          expect(worked(workTimeOn(ground, change(job.outfit))).minutes).toBeLessThanOrEqual(worked(before).minutes);
        }),
        { numRuns: 300 },
      );
    });
  }

  it("an aircraft more, without a set of its own to spare, never makes it longer either", () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        fc.pre(job.outfit.batterySets > job.outfit.aircraftCount);
        const ground = groundOf(job);
        const before = workTimeOn(ground, job.outfit);
        fc.pre(before.ok && before.detail.loads <= loadsMost);
        const after = workTimeOn(ground, { ...job.outfit, aircraftCount: job.outfit.aircraftCount + 1 });
        expect(worked(after).minutes).toBeLessThanOrEqual(worked(before).minutes);
      }),
      { numRuns: 300 },
    );
  });

  /** By how many minutes the work differs when field and pads are turned and moved, and what it takes. */
  function whenTurned(job: Job, angleRad: number, eastM: number): { differMin: number; minutes: number } {
    const place = (point: PointXY): PointXY => {
      const [xM, yM] = turnPoint(point, angleRad);
      return [xM + eastM, yM + 500];
    };
    const { headingDeg } = job.rules;
    const turned = {
      ...job.rules,
      headingDeg: headingDeg === undefined ? undefined : headingDeg + degFromRad(angleRad),
    };
    const area = move(turn(job.area, angleRad), eastM, 500);
    const before = workTimeOn(groundOf(job), job.outfit);
    const after = workTimeOn(groundOf({ ...job, area, rules: turned, pads: job.pads.map(place) }), job.outfit);
    expect(after.ok).toBe(before.ok);
    if (!before.ok || !after.ok) return { differMin: 0, minutes: 0 };
    return { differMin: Math.abs(after.minutes - before.minutes), minutes: before.minutes };
  }

  it("does not depend on where the field lies or which way it is turned", () => {
    fc.assert(
      fc.property(anyJob, evenly(0, 6.28), evenly(-3000, 3000), (job, angleRad, eastM) => {
        const bare = { ...job, rules: { ...job.rules, headlandM: 0 } };
        expect(whenTurned(bare, angleRad, eastM).differMin).toBeLessThanOrEqual(1);
      }),
      { numRuns: 200 },
    );
  });

  it("nor with headlands and obstacles, but where a lane may be just wide enough one way and not the other", () => {
    const jobs = fc.tuple(anyJob, evenly(8, 25), evenly(0, 6.28), evenly(-3000, 3000));
    const differ = fc.sample(jobs, { numRuns: 300, seed: 1 }).map(([job, holeM, angleRad, eastM]) => {
      const area = difference(job.area, rectangle(-holeM, -holeM, 2 * holeM, 2 * holeM));
      return whenTurned({ ...job, area, rules: { ...job.rules, headlandM: 9 } }, angleRad, eastM);
    });
    const off = differ.filter(({ differMin }) => differMin > 1);
    expect(off.length).toBeLessThanOrEqual(6);
    for (const { differMin, minutes } of off) expect(differMin / minutes).toBeLessThan(0.1);
  });

  it("adds up: loads, tanks, sets and the time that the aircraft have", () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const outcome = workTimeOn(groundOf(job), job.outfit);
        fc.pre(outcome.ok);
        const { minutes, detail } = worked(outcome);
        const { type, aircraftCount } = job.outfit;
        expect(detail.loads * detail.loadSize).toBeCloseTo(detail.amount, 6);
        const gear = gearOf(type, job.outfit.method, job.outfit.densityKgPerL)!;
        expect(detail.loadSize).toBeLessThanOrEqual(gear.fullLoad * (1 + 1e-5));
        const airMin = detail.sprayMin + detail.turnMin + detail.ferryMin;
        const perSetMin = type.power.enduranceMin * 0.8;
        expect(airMin / detail.loads).toBeLessThanOrEqual(perSetMin + 1e-9);
        if (type.power.source === "battery") {
          expect(detail.batteryChanges + aircraftCount).toBeGreaterThanOrEqual(airMin / perSetMin - 1e-9);
        }
        expect(airMin + detail.groundMin).toBeLessThanOrEqual(aircraftCount * minutes + 1e-6);
      }),
      { numRuns: 300 },
    );
  });
});
