import { describe, expect, it } from "vitest";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { type OperationInput, smallOperation } from "../../support/operation.ts";

/** Six crews with a kit each, eight orders in many small blocks on two fields, one short shift each: crews wait for each other over a field all the time. */
function crowded(seed: number) {
  const { fleet, orders, products } = smallOperation({}) as OperationInput;
  const six = Array.from({ length: 6 }, (_, n) => n);
  return smallOperation({
    settings: { planning: { blockMaxMin: 15 + 5 * (seed % 3) } },
    products: products.map((product) => ({ ...product, rainfastHours: 0 })),
    orders: six
      .slice(0, 4)
      .flatMap((n) => orders.map((order) => ({ ...order, id: `${order.id}-${n}`, priceCentsPerHa: 2500 + 400 * n }))),
    fleet: {
      ...fleet,
      aircraft: six.map((n) => ({ id: `A${n}`, typeId: "SMALL", baseId: "B1" })),
      batteryStocks: [{ baseId: "B1", aircraftTypeId: "SMALL", sets: 18 }],
      chargers: six.map((n) => ({ ...fleet.chargers![0]!, id: `C${n}` })),
      tenders: six.map((n) => ({ ...fleet.tenders[0]!, id: `T${n}` })),
      crews: six.map((n) => ({
        ...fleet.crews[0]!,
        id: `K${n}`,
        people: fleet.crews[0]!.people.map((person) => ({ ...person, id: `N${n}` })),
        maxAircraft: 1,
        shifts: fleet.crews[0]!.shifts.map((shift) => ({
          ...shift,
          from: "06:00",
          to: `08:${10 + 10 * (seed % 3)}`,
        })),
      })),
    },
  });
}

describe("crews that crowd on two fields", () => {
  for (let seed = 1; seed <= 6; seed++) {
    it(`never work above each other, and the plan is written as it was found: seed ${seed}`, () => {
      const operation = crowded(seed);
      const plan = planOperation(operation, {
        seed,
        random: createRandom(seed),
        doneShare: (done) => done / 800,
      });
      const report = checkPlan(operation, plan);
      expect(report.breaches).toEqual([]);
      expect(report.checked.airspace).toBeGreaterThan(0);
    });
  }
});
