import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { swathOnMapM } from "../../../shared/fieldwork/ground.ts";
import { bestSwathPlan, type SwathPlan, type SwathRules } from "../../../shared/fieldwork/swathPlan.ts";
import { areaM2 } from "../../../shared/geo/area.ts";
import { difference, union } from "../../../shared/geo/clip.ts";
import { passesAt } from "../../../shared/geo/swath.ts";
import { evenly, move, rectangle, starField, turn, withHole } from "../geo/shapes.ts";

const field = rectangle(0, 0, 400, 200);
const rules = (swathM: number, turnCostM: number): SwathRules => ({ swathM, turnCostM, headlandM: 0 });

describe("swath plan", () => {
  it("runs along the longer side: 29 passes of 400 m, 28 turns", () => {
    const plan = bestSwathPlan(field, rules(7, 60));
    expect(plan).toMatchObject({ passes: 29, turns: 28, passM: 11_600 });
    expect(plan.headingDeg).toBeCloseTo(90, 9);
  });

  it("turns with the field", () => {
    for (let angleDeg = 0; angleDeg < 180; angleDeg += 7) {
      const plan = bestSwathPlan(turn(field, (angleDeg * Math.PI) / 180), rules(7, 60));
      expect(plan.passes).toBe(29);
      expect(Math.min(Math.abs(plan.headingDeg - ((90 + angleDeg) % 180)), 180)).toBeCloseTo(0, 6);
    }
  });

  it("turns at an obstacle", () => {
    const holed = withHole(field, rectangle(100, 50, 60, 50));
    expect(bestSwathPlan(holed, rules(10, 60)).turns).toBe(24);
  });

  it("flies a strip narrower than the swath once, and a place between two centre lines as well", () => {
    expect(bestSwathPlan(rectangle(0, 0, 200, 3), rules(7, 60))).toMatchObject({ passes: 1, turns: 0 });
    const two = [...rectangle(0, 0, 2, 1), ...rectangle(0, 5, 2, 1)];
    const plan = bestSwathPlan(two, rules(20, 60));
    expect(plan.passes).toBe(1);
    expect(plan.passM).toBeGreaterThanOrEqual(areaM2(two) / 20);
  });

  it("runs along a prescribed heading: 58 passes of 200 m crosswise, however many turns that takes", () => {
    const crosswise = bestSwathPlan(field, { ...rules(7, 60), headingDeg: 180 });
    expect(crosswise).toMatchObject({ passes: 58, turns: 57, headingDeg: 0 });
    expect(bestSwathPlan(field, { ...rules(7, 60), headingDeg: 270 })).toMatchObject({ passes: 29, headingDeg: 90 });
  });

  it("overlaps by what the last pass lies outside: 29 x 7 = 203 of 200 m", () => {
    expect(bestSwathPlan(field, rules(7, 60)).overlapFrac).toBeCloseTo(3 / 203, 9);
  });

  it("flies one arm of the field after the other, with a way between them", () => {
    // A U of two arms of 100 x 300 m over a foot of 300 x 100 m: 10 passes of 400 m, 10 of 100 m under the bay, 10 of 400 m.
    const bay = [...rectangle(0, 0, 100, 400), ...rectangle(100, 0, 100, 100), ...rectangle(200, 0, 100, 400)];
    const plan = bestSwathPlan(union([bay]), { ...rules(10, 60), headingDeg: 0 });
    expect(plan.passM).toBeCloseTo(10 * 400 + 10 * 100 + 10 * 400, 6);
    expect(plan.turns).toBe(29);
    // From the top of an arm to the foot beside it: 300 m beyond a turn, once at most on either side.
    expect(plan.hopM).toBeLessThanOrEqual(2 * 300);
    const passes = plan.legs.map(({ pass }) => pass);
    expect(passes.slice(1).every((pass, index) => Math.abs(pass - passes[index]!) === 1)).toBe(true);
  });

  it("does not fly to and fro over a bay: rows along a comb of teeth are flown tooth by tooth", () => {
    // Five teeth of 40 x 200 m, 60 m apart, on a back of 460 x 40 m, flown across the teeth.
    const teeth = [0, 1, 2, 3, 4].flatMap((tooth) => rectangle(tooth * 105, 40, 40, 200));
    const comb = union([[...rectangle(0, 0, 460, 40), ...teeth]]);
    const { legs, hopM } = bestSwathPlan(comb, { ...rules(10, 60), headingDeg: 90 });
    expect(legs).toHaveLength(4 + 5 * 20);
    // Row by row each of 20 rows would cross four gaps of 65 m.
    expect(hopM).toBeLessThan((20 * 4 * (65 - 10)) / 4);
  });

  it("flies a headland in laps: 1,160 m at 5 m from the outline, 18 passes of 380 m in what is left", () => {
    const plan = bestSwathPlan(field, { ...rules(10, 60), headlandM: 10 });
    expect(plan.passM).toBeCloseTo(2 * (390 + 190) + 18 * 380, 6);
    // Three corners of the lap, the way from the lap to the first pass, 17 turns.
    expect(plan).toMatchObject({ passes: 1 + 18, turns: 3 + 1 + 17 });
    expect(plan.overlapFrac).toBeCloseTo(0, 12);
    expect(plan.legs.filter(({ pass }) => pass < 0)).toHaveLength(4);
  });

  it("has as many laps as swaths fit into the headland, round obstacles too", () => {
    const holed = withHole(field, rectangle(150, 80, 60, 40));
    const laps = bestSwathPlan(holed, { ...rules(10, 60), headlandM: 15 }).legs.filter(({ pass }) => pass < 0);
    expect(new Set(laps.map(({ pass }) => pass)).size).toBe(2 * 2);
  });

  it("flies lanes and fields that are no wider than two headlands in passes: no ground is left out", () => {
    const square = rectangle(0, 0, 200, 200);
    const farStrip = [...square, ...rectangle(900, 0, 9, 500)];
    const plan = bestSwathPlan(farStrip, { ...rules(10, 60), headlandM: 10 });
    expect(plan.passM * 10).toBeGreaterThanOrEqual(areaM2(farStrip) * (1 - 1e-9));
    expect(Math.max(...plan.legs.map(({ to }) => to[0]))).toBeGreaterThan(900);
    const lane = union([[...square, ...rectangle(199, 50, 500, 9)]]);
    const withLane = bestSwathPlan(lane, { ...rules(10, 60), headlandM: 10 });
    expect(withLane.passM * 10).toBeGreaterThanOrEqual(areaM2(lane) * 0.98);
    expect(Math.max(...withLane.legs.map(({ from, to }) => Math.max(from[0], to[0])))).toBeGreaterThan(690);
  });

  it("flies a far strip between two centre lines by itself", () => {
    const farStrip = [...rectangle(0, 0, 200, 200), ...rectangle(900, 0, 5, 500)];
    const { legs, passes } = bestSwathPlan(farStrip, { ...rules(10, 60), headingDeg: 0 });
    expect(legs.some(({ from }) => from[0] > 900)).toBe(true);
    expect(passes).toBeGreaterThanOrEqual(21);
  });

  it("costs the same with a headland, whichever way the field is turned, but for a lane now and then that is just too narrow", () => {
    const costM = ({ passM, turns, hopM }: SwathPlan) => passM + turns * 60 + hopM;
    const differ = fc
      .sample(fc.tuple(starField, evenly(0, 6.28), evenly(2, 40)), { numRuns: 200, seed: 1 })
      .map(([area, angleRad, headlandM]) => {
        const plan = bestSwathPlan(area, { ...rules(11, 60), headlandM });
        const turned = bestSwathPlan(turn(area, angleRad), { ...rules(11, 60), headlandM });
        return Math.abs(costM(turned) / costM(plan) - 1);
      });
    expect(differ.filter((share) => share > 1e-3).length).toBeLessThanOrEqual(5);
    expect(Math.max(...differ)).toBeLessThan(0.03);
  });

  it("takes no thread along the outline for ground: no headland has pieces of next to no length, holes or not", () => {
    fc.assert(
      fc.property(starField, evenly(2, 40), evenly(8, 25), (area, headlandM, holeM) => {
        const hole = rectangle(-holeM, -holeM, 2 * holeM, 2 * holeM);
        const { legs, turns, hopM } = bestSwathPlan(difference(area, hole), { ...rules(11, 60), headlandM });
        // Turns are known before the passes are flown, and with them what a heading costs at least.
        expect(turns).toBe(legs.reduce((sum, leg) => sum + leg.turns, 0));
        expect(hopM).toBeGreaterThanOrEqual(0);
        const crumbs = legs.filter(({ pass, lengthM }) => pass >= 0 && lengthM < 0.3);
        expect(crumbs.length).toBeLessThanOrEqual(4);
      }),
      { numRuns: 300 },
    );
  });

  it("has no laps on a field that is no wider than its headland", () => {
    const strip = rectangle(0, 0, 400, 18);
    expect(bestSwathPlan(strip, { ...rules(10, 60), headlandM: 10 })).toEqual(bestSwathPlan(strip, rules(10, 60)));
  });

  it("covers a slope with a swath that is shorter on the map: 10 m on 75 % are 8 m", () => {
    expect(swathOnMapM(10, 75)).toBeCloseTo(8, 12);
    expect(swathOnMapM(10, 0)).toBe(10);
  });

  it("is near the best of 360 headings, never shorter than its ground", () => {
    fc.assert(
      fc.property(starField, evenly(4, 25), evenly(0, 200), (area, swathM, turnCostM) => {
        const plan = bestSwathPlan(area, rules(swathM, turnCostM));
        expect(plan.passM).toBeGreaterThanOrEqual(areaM2(area) / swathM);
        const costsM = Array.from({ length: 360 }, (_, i) => {
          const { lengthM, segments } = passesAt(area, (i * Math.PI) / 360, swathM);
          return lengthM + (segments.length - 1) * turnCostM;
        });
        expect((plan.passM + plan.turns * turnCostM) / Math.min(...costsM)).toBeLessThan(1.25);
      }),
    );
  });

  it("costs the same wherever the field lies and whichever way it is turned", () => {
    fc.assert(
      fc.property(starField, evenly(0, 6.28), evenly(-5000, 5000), (area, angleRad, eastM) => {
        const plan = bestSwathPlan(area, rules(9, 60));
        const moved = bestSwathPlan(move(turn(area, angleRad), eastM, -eastM), rules(9, 60));
        expect((moved.passM + moved.turns * 60) / (plan.passM + plan.turns * 60)).toBeCloseTo(1, 6);
      }),
    );
  });
});
