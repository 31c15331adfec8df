import { describe, expect, it } from "vitest";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { crowdedOperation } from "../../support/crowdedOperation.ts";

describe("crews that crowd on two fields", () => {
  for (let seed = 1; seed <= 6; seed++) {
    it(`never work above each other, and the plan is written as it was found: seed ${seed}`, () => {
      const operation = crowdedOperation(seed);
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
