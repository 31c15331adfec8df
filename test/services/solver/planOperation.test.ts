import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { type Plan, planSchema } from "../../../shared/plan/plan.ts";
import { scorePartNames } from "../../../shared/plan/scoreParts.ts";

function planned(operation: Operation, iterations: number, seed = 1): Plan {
  const plan = planOperation(operation, {
    seed,
    random: createRandom(seed),
    doneShare: (done) => done / iterations,
  });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  return plan;
}

/** Sizes as they come: a lone crew for a day up to ten crews for ten days. */
const sizes = [
  { orders: 5, crews: 1, days: 1 },
  { orders: 12, crews: 2, days: 3 },
  { orders: 30, crews: 3, days: 7 },
  { orders: 60, crews: 5, days: 7 },
  { orders: 90, crews: 10, days: 10 },
];

describe("plans of generated operations", () => {
  for (const [seed, size] of sizes.entries()) {
    it(`keep every rule: ${size.orders} orders, ${size.crews} crews, ${size.days} days`, () => {
      const operation = generateOperation({ ...size, seed: seed + 1 });
      const plan = planned(operation, 150);
      expect(planSchema.parse(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
    });
  }

  it("serve something, and more after searching than at once", () => {
    const operation = generateOperation({ orders: 40, crews: 4, days: 7, seed: 11 });
    const first = planned(operation, 1);
    const searched = planned(operation, 300);
    expect(first.score.servedHa).toBeGreaterThan(0);
    expect(searched.score.totalCents).toBeLessThanOrEqual(first.score.totalCents);
  });

  it("cost what the search believed, to the rounding of the score's parts", () => {
    const operation = generateOperation({ orders: 40, crews: 5, days: 7, seed: 14 });
    let believedCents = 0;
    const plan = planOperation(operation, {
      seed: 1,
      random: createRandom(1),
      doneShare: (done) => done / 100,
      onProgress: ({ totalCents }) => {
        believedCents = totalCents;
      },
    });
    expect(Math.abs(plan.score.totalCents - believedCents)).toBeLessThanOrEqual(scorePartNames.length / 2);
  });

  it("are the same, byte for byte, for the same seed", () => {
    const operation = generateOperation({ orders: 25, crews: 3, days: 5, seed: 12 });
    const once = JSON.stringify(planned(operation, 120, 7));
    expect(JSON.stringify(planned(operation, 120, 7))).toBe(once);
    expect(JSON.stringify(planned(operation, 120, 8))).not.toBe(once);
  });

  it("do not need a crew that has no shift: taking it away changes nothing", () => {
    const operation = generateOperation({ orders: 20, crews: 3, days: 5, seed: 13 });
    const idle = operation.fleet.crews.at(-1)!;
    const off: Operation = {
      ...operation,
      fleet: {
        ...operation.fleet,
        crews: operation.fleet.crews.map((crew) => (crew === idle ? { ...crew, shifts: [] } : crew)),
      },
    };
    const without: Operation = {
      ...operation,
      fleet: { ...operation.fleet, crews: operation.fleet.crews.filter((crew) => crew !== idle) },
    };
    expect(planned(off, 60).score).toEqual(planned(without, 60).score);
  });
});
