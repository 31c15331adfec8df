import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestSwathPlan, type SwathRules } from "../../../shared/fieldwork/swathPlan.ts";
import { areaM2 } from "../../../shared/geo/area.ts";
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
