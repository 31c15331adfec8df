import { describe, expect, test } from "vitest";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { ruleNames } from "../../../../shared/plan/check/report.ts";
import { planSchema } from "../../../../shared/plan/plan.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

describe("a plan made by hand", () => {
  const operation = richOperation();
  const plan = richPlan(operation);
  const report = checkPlan(operation, plan);

  test("is a plan in form", () => {
    expect(planSchema.parse(plan)).toEqual(plan);
  });

  test("breaks no rule", () => {
    expect(report.breaches).toEqual([]);
    expect(report.ok).toBe(true);
  });

  test("gives every rule something to examine", () => {
    expect(ruleNames.filter((rule) => report.checked[rule] === 0)).toEqual([]);
  });
});
