import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { prepareGround } from "../../../shared/fieldwork/ground.ts";
import { type Leg, pathOf } from "../../../shared/fieldwork/path.ts";
import { createPadPath, flownPath } from "../../../shared/fieldwork/sorties.ts";
import { bestSwathPlan } from "../../../shared/fieldwork/swathPlan.ts";
import { distanceM } from "../../../shared/geo/distance.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import { evenly, starField } from "../geo/shapes.ts";

/** Two passes of 100 m, 10 m apart, flown forth and back; the pad lies at the first corner. */
const two: Leg[] = pathOf(
  [
    { pass: 0, from: [0, 0], to: [0, 100], lengthM: 100 },
    { pass: 1, from: [10, 100], to: [10, 0], lengthM: 100 },
  ],
  10,
);

const motion = { swathM: 9, speedMaxMps: 10, turnS: 6, ferrySpeedMps: 12, takeoffLandingS: 20 };

describe("sorties along the passes", () => {
  const path = createPadPath(flownPath(two, 200), [0, 0]);

  it("one: out 0 m, back 10 m, one turn", () => {
    expect(path.sums(1)).toEqual({ ferryM: 10, turns: 1, hopM: 0 });
    expect(path.sorties(1).ferryM).toEqual(Float64Array.of(10));
  });

  it("two: the first ends with its pass, 100 m away; the second comes to the next pass from the pad and saves the turn", () => {
    const backM = 100;
    const outM = Math.hypot(10, 100);
    expect(path.sorties(2).ferryM).toEqual(Float64Array.of(backM, outM + 10));
    expect(path.sums(2)).toEqual({ ferryM: backM + outM + 10, turns: 0, hopM: 0 });
  });

  it("four: breaks at 50, 100 and 150 m; a break in a pass is flown to and from", () => {
    const { ferryM, turns } = path.sorties(4);
    expect([...ferryM]).toEqual([50, 50 + 100, Math.hypot(10, 100) + Math.hypot(10, 50), Math.hypot(10, 50) + 10]);
    expect([...turns]).toEqual([0, 0, 0, 0]);
  });

  it("a load of 150 m takes the turn with it", () => {
    const { turns } = createPadPath(flownPath(two, 200), [0, 0]).sorties(3);
    // Breaks at 66.7 and 133.3 m: the turn is in the second of three.
    expect([...turns]).toEqual([0, 1, 0]);
  });

  it("a way between arms of the field is flown in the sortie that crosses it", () => {
    const apart = pathOf([two[0]!, { pass: 7, from: [70, 100], to: [70, 0], lengthM: 100 }], 10);
    expect(createPadPath(flownPath(apart, 200), [0, 0]).sums(1)).toEqual({ ferryM: 70, turns: 1, hopM: 60 });
  });

  it("are the same as when they are walked in small steps", () => {
    fc.assert(
      fc.property(
        starField,
        evenly(6, 25),
        evenly(-500, 500),
        fc.integer({ min: 1, max: 40 }),
        (area, swathM, xM, loads) => {
          const { legs, passM } = bestSwathPlan(area, { swathM, turnCostM: 60, headlandM: 0 });
          const pad: PointXY = [xM, -300];
          const found = createPadPath(flownPath(legs, passM), pad).sorties(loads);
          const walked = walk(legs, passM, pad, loads);
          for (let sortie = 0; sortie < loads; sortie++) {
            expect(Math.abs(found.ferryM[sortie]! - walked.ferryM[sortie]!)).toBeLessThan(1e-3);
            expect(found.turns[sortie]).toBe(walked.turns[sortie]);
            expect(Math.abs(found.hopM[sortie]! - walked.hopM[sortie]!)).toBeLessThan(1e-3);
          }
          const { ferryM, turns, hopM } = createPadPath(flownPath(legs, passM), pad).sums(loads);
          expect(ferryM).toBeCloseTo(
            found.ferryM.reduce((a, b) => a + b, 0),
            6,
          );
          expect(turns).toBe(found.turns.reduce((a, b) => a + b, 0));
          expect(hopM).toBeCloseTo(
            found.hopM.reduce((a, b) => a + b, 0),
            6,
          );
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe("legs as flown from a pad", () => {
  it("make the sorties that are timed", () => {
    fc.assert(
      fc.property(
        starField,
        evenly(0, 30),
        evenly(-500, 500),
        fc.integer({ min: 1, max: 30 }),
        (area, headlandM, xM, loads) => {
          const pad: PointXY = [xM, -200];
          const ground = prepareGround(area, [pad], motion, { slopePct: 0, headlandM });
          const legs = ground.pads[0]!.legs(loads);
          const { ferryM, turns, hopM } = createPadPath(flownPath(legs, ground.swathPlan.passM), pad).sorties(loads);
          const eachS = ground.pads[0]!.beside.eachS(loads);
          for (let sortie = 0; sortie < loads; sortie++) {
            const besideS = 20 + (ferryM[sortie]! + hopM[sortie]!) / 12 + turns[sortie]! * 6;
            expect(eachS[sortie]! - besideS).toBeCloseTo(0, 6);
          }
        },
      ),
    );
  });

  it("take beside the passes what their sum says, and no less than what is said of so many and more, in whatever order that is asked", () => {
    const some = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(
        starField,
        evenly(-400, 400),
        fc.array(fc.tuple(some, some), { minLength: 1, maxLength: 5 }),
        (area, xM, asks) => {
          const { beside } = prepareGround(area, [[xM, -300]], motion, { slopePct: 0, headlandM: 0 }).pads[0]!;
          for (const [loads, more] of asks) {
            const leastS = beside.leastSumS(loads);
            for (let each = loads; each <= loads + more; each++) {
              expect(leastS).toBeLessThanOrEqual(beside.sumS(each));
              const summedS = Array.from(beside.eachS(each)).reduce((sum, one) => sum + one, 0);
              expect(beside.sumS(each) / summedS).toBeCloseTo(1, 9);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});

/** The same by an aircraft that carries a rest of pass length and flies on until it is used up. */
function walk(legs: readonly Leg[], passM: number, pad: PointXY, loads: number) {
  const stretch = passM / legs.reduce((sum, leg) => sum + leg.lengthM, 0);
  const shareM = passM / loads;
  const sorties = { ferryM: [0], turns: [0], hopM: [0] };
  let leftM = shareM;
  let isOnPad = true;
  const land = (at: PointXY) => {
    sorties.ferryM[sorties.ferryM.length - 1]! += distanceM(at, pad);
    isOnPad = true;
  };
  const takeOff = (at: PointXY) => {
    if (leftM <= 1e-7) {
      sorties.ferryM.push(0);
      sorties.turns.push(0);
      sorties.hopM.push(0);
      leftM = shareM;
    }
    sorties.ferryM[sorties.ferryM.length - 1]! += distanceM(at, pad);
    isOnPad = false;
  };
  for (const leg of legs) {
    if (isOnPad) takeOff(leg.from);
    else {
      sorties.turns[sorties.turns.length - 1]! += leg.turns;
      sorties.hopM[sorties.hopM.length - 1]! += leg.hopM;
    }
    const legM = leg.lengthM * stretch;
    let doneM = 0;
    while (legM - doneM > 1e-6) {
      const share = doneM / legM;
      const at: PointXY = [
        leg.from[0] + share * (leg.to[0] - leg.from[0]),
        leg.from[1] + share * (leg.to[1] - leg.from[1]),
      ];
      if (isOnPad) takeOff(at);
      const flyM = Math.min(leftM, legM - doneM);
      doneM += flyM;
      leftM -= flyM;
      if (leftM > 1e-6) continue;
      leftM = 0;
      const endShare = doneM / legM;
      land([leg.from[0] + endShare * (leg.to[0] - leg.from[0]), leg.from[1] + endShare * (leg.to[1] - leg.from[1])]);
    }
  }
  if (!isOnPad) land(legs[legs.length - 1]!.to);
  return sorties;
}
