import { expect, test } from "vitest";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

// 7 ha of O-2 are left out. It pays 2000 cents, O-1 pays 2500; mandatory counts twenty times.
test.each([
  { what: "at the highest price of any order", unservedCents: 7 * 2500 * 20, expected: true },
  { what: "within a cent", unservedCents: 7 * 2500 * 20 + 1, expected: true },
  { what: "two cents off", unservedCents: 7 * 2500 * 20 + 2, expected: false },
  { what: "at its own price", unservedCents: 7 * 2000 * 20, expected: false },
])("a mandatory order left out counts $what: $expected", ({ unservedCents, expected }) => {
  const operation = viewOperation();
  operation.orders.find(({ id }) => id === "O-2")!.priority = "mandatory";
  const plan = viewPlan(operation);
  plan.score = { ...plan.score, unservedCents };
  const found = checkPlan(operation, plan).breaches.filter(
    ({ rule, sentence }) => rule === "score" && sentence.startsWith("unservedCents"),
  );
  expect(found.length === 0).toBe(expected);
});
