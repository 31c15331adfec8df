import { describe, expect, test } from "vitest";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

/** Lists of the operation that ids of a plan point into, directly or through an order. */
const lists: Record<string, (operation: Operation) => unknown[]> = {
  fields: ({ fields }) => fields.features,
  products: ({ products }) => products,
  orders: ({ orders }) => orders,
  "aircraft types": ({ fleet }) => fleet.aircraftTypes,
  aircraft: ({ fleet }) => fleet.aircraft,
  chargers: ({ fleet }) => fleet.chargers,
  tenders: ({ fleet }) => fleet.tenders,
  crews: ({ fleet }) => fleet.crews,
  bases: ({ settings }) => settings.bases,
  "water points": ({ settings }) => settings.waterPoints,
};

describe("an operation that has lost a part that the plan names", () => {
  const plan = richPlan(richOperation());

  test.each(Object.entries(lists))("one of its %s: a breach, never a crash", (_, listOf) => {
    listOf(richOperation()).forEach((_part, index) => {
      const operation = richOperation();
      listOf(operation).splice(index, 1);
      const { ok, breaches } = checkPlan(operation, plan);
      expect(ok).toBe(false);
      expect(breaches.some(({ rule }) => rule === "knownIds")).toBe(true);
    });
  });

  test.each(Object.entries(lists))("all of its %s", (_, listOf) => {
    const operation = richOperation();
    listOf(operation).length = 0;
    expect(checkPlan(operation, plan).breaches.some(({ rule }) => rule === "knownIds")).toBe(true);
  });

  test("its weather", () => {
    const operation = richOperation();
    operation.weather = [];
    const { breaches } = checkPlan(operation, plan);
    expect(breaches.filter(({ rule }) => rule === "noForecast").length).toBeGreaterThan(0);
  });
});
