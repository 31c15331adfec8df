import { describe, expect, test } from "vitest";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { gatherFacts } from "../../../../shared/plan/check/facts.ts";
import { gearOf } from "../../../../shared/plan/check/flow.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";
import { stopsOf } from "../../../support/mutations/mutation.ts";
import { smallOperation } from "../../../support/operation.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

describe("a full load of a mix", () => {
  /** Litres in a tank of 40 L under an aircraft that carries 40 kg, 20 L/ha of spray. */
  function fullLoadL(parts: readonly { rateUnit: "L" | "kg"; ratePerHa: number; densityKgPerL: number }[]): number {
    const small = smallOperation({});
    const [template] = small.products;
    const products = parts.map(({ rateUnit, densityKgPerL }, index) => ({
      ...template!,
      id: `P${index}`,
      rateUnit,
      densityKgPerL,
    }));
    const operation = smallOperation({
      products: [...products, small.products[1]!],
      orders: [
        {
          ...small.orders[0]!,
          products: parts.map(({ ratePerHa }, index) => ({ productId: `P${index}`, ratePerHa })),
          carrierLPerHa: 20,
        },
      ],
    });
    const [mix] = gatherFacts(operation, emptyPlan(operation, 1)).mixes.values();
    const [type] = operation.fleet.aircraftTypes;
    return gearOf({ ...type!, payloadKg: 40 }, mix!)!.fullLoad;
  }

  test.each([
    { what: "as heavy as water", parts: [{ rateUnit: "L", ratePerHa: 2, densityKgPerL: 1 }], expected: 40 },
    // (20 - 4 + 4 x 1.25) / 20 = 1.05 kg/L.
    { what: "a dense liquid", parts: [{ rateUnit: "L", ratePerHa: 4, densityKgPerL: 1.25 }], expected: 40 / 1.05 },
    // (20 - 5 + 5 x 0.8) / 20 = 0.95 kg/L: the tank is full first.
    { what: "a light liquid", parts: [{ rateUnit: "L", ratePerHa: 5, densityKgPerL: 0.8 }], expected: 40 },
    // 4 kg take 2 L: (20 - 2 + 4) / 20 = 1.1 kg/L.
    { what: "a powder", parts: [{ rateUnit: "kg", ratePerHa: 4, densityKgPerL: 2 }], expected: 40 / 1.1 },
    // 4 L weigh 5 kg and 4 kg take 2 L: (20 - 6 + 9) / 20 = 1.15 kg/L.
    {
      what: "both",
      parts: [
        { rateUnit: "L", ratePerHa: 4, densityKgPerL: 1.25 },
        { rateUnit: "kg", ratePerHa: 4, densityKgPerL: 2 },
      ],
      expected: 40 / 1.15,
    },
  ] as const)("$what: $expected L", ({ parts, expected }) => {
    expect(fullLoadL(parts)).toBeCloseTo(expected, 9);
  });
});

test("a load may be as heavy as the aircraft carries, half a percent aside", () => {
  const breaks = (overShare: number) => {
    const operation = richOperation();
    const plan = richPlan(operation);
    const draft = { operation, plan, calendar: createCalendar(operation.settings), random: () => 0 };
    const { order, products, types, work } = stopsOf(draft).find((stop) => stop.order.id === "O-3")!;
    // O-3 sprays 2 L/ha in 30 L/ha: at 4 kg/L the mix weighs (30 - 2 + 8) / 30 = 1.2 kg/L.
    expect([order.products[0]!.ratePerHa, order.carrierLPerHa, products.length]).toEqual([2, 30, 1]);
    products[0]!.densityKgPerL = 4;
    for (const type of types) type.payloadKg = (1.2 * work.detail.loadSize) / (1 + overShare);
    return checkPlan(operation, plan).breaches.filter(
      ({ rule, blockId, sentence }) =>
        rule === "workDetail" && blockId === work.blockId && sentence.includes("size of a load"),
    ).length;
  };
  expect(breaks(0)).toBe(0);
  expect(breaks(0.0049)).toBe(0);
  expect(breaks(0.0051)).toBe(1);
});
