import { describe, expect, test } from "vitest";
import { locksSchema } from "../../../../shared/model/locks.ts";
import { localDateTimeSchema } from "../../../../shared/model/quantities.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { ruleNames } from "../../../../shared/plan/check/report.ts";
import { type CrewDay, type Plan, planSchema } from "../../../../shared/plan/plan.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

describe("a plan made by hand", () => {
  const rich = richOperation();
  const byHand = richPlan(rich);
  const [{ crewId, date, outfit }] = byHand.crewDays as [CrewDay];
  const planFrom = localDateTimeSchema.parse(`${rich.settings.firstDay}T00:00`);
  const operation = {
    ...rich,
    settings: { ...rich.settings, planFrom },
    locks: locksSchema.parse([{ crewId, date, outfit: { tenderId: outfit.tenderId } }]),
  };
  const boundCents = byHand.score.totalCents;
  const plan: Plan = { ...byHand, proof: { boundCents, gapFrac: 0, method: "routes", finished: true, worth: [] } };
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
