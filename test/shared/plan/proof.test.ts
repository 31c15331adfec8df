import { describe, expect, it } from "vitest";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { type Plan, planSchema } from "../../../shared/plan/plan.ts";
import { gapPercent, gapWords, type ProvenBound, proofOf, proofWords } from "../../../shared/plan/proof.ts";
import { weekText } from "../../../shared/plan/text.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { richOperation } from "../../support/richOperation.ts";
import { richPlan } from "../../support/richPlan.ts";

const bound: ProvenBound = { boundCents: 2_733_800, method: "routes", finished: true, worth: [] };

describe("a proof", () => {
  it("says by how much of the bound a plan costs more", () => {
    // 28185.48 / 27338.00 = 1.031
    expect(proofOf(bound, 2_818_547.8)!.gapFrac).toBeCloseTo(0.031, 12);
    expect(proofOf(bound, 2_733_800)!.gapFrac).toBe(0);
  });

  it("is none where the bound says nothing, or the plan refutes it", () => {
    expect(proofOf({ ...bound, boundCents: 0 }, 100)).toBeNull();
    expect(proofOf(bound, 2_733_799)).toBeNull();
  });

  it("is told in a line, the gap rounded up", () => {
    expect(proofWords(proofOf(bound, 2_818_547.8)!, "EUR")).toBe(
      "No plan for this week can cost less than 27338.00 EUR: this one is at most 3.1 % above that.",
    );
    expect(proofWords({ ...proofOf(bound, 2_818_600)!, finished: false }, "EUR")).toBe(
      "No plan for this week can cost less than 27338.00 EUR: this one is at most 3.2 % above that. Longer planning may narrow this.",
    );
    expect(proofWords(proofOf(bound, 2_733_800)!, "EUR")).toBe(
      "No plan for this week can cost less than 27338.00 EUR, and this one costs no more.",
    );
    expect(proofWords(undefined, "EUR")).toBe(
      "Nothing is proven about how much cheaper another plan for this week could be.",
    );
    expect(gapWords(0.0311)).toBe("at most 3.2 % above the least possible cost");
    expect([0, 1e-6, 0.001, 0.0011].map(gapPercent)).toEqual(["0.0", "0.1", "0.1", "0.2"]);
  });

  it("goes with the plan through the checker, the file and the week's text", () => {
    const operation = richOperation();
    const bare = richPlan(operation);
    const { id, baseId } = operation.fleet.crews[0]!;
    const worth = [{ thing: "dutyMin", date: bare.firstDay, baseId, id, cents: 12.5 }] as const;
    const half: ProvenBound = { ...bound, boundCents: bare.score.totalCents / 2, worth: [...worth] };
    const plan: Plan = { ...bare, proof: proofOf(half, bare.score.totalCents)! };
    const check = checkPlan(operation, plan);
    expect(check.breaches).toEqual([]);
    expect(check.checked.proof).toBe(3);
    expect(planSchema.parse(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
    expect(weekText(weekView(operation, plan, check))).toContain("this one is at most 100.0 % above");
    const without = weekView(operation, bare, checkPlan(operation, bare));
    expect(weekText(without)).toContain("Nothing is proven about how much cheaper");
  });
});
