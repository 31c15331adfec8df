import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { mutations } from "../../support/mutations.ts";

const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

it("a plan of the solver, broken in each way there is, is caught by the rule that was broken", async () => {
  const read = await readScenario(small);
  if (!read.ok) throw new Error("the small scenario is refused");
  const { operation } = read;
  const plan = planOperation(operation, { seed: 1, random: createRandom(1), doneShare: (done) => done / 100 });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  let tried = 0;
  const missed: string[] = [];
  for (const { rule, name, mutate } of mutations) {
    const broken = mutate(operation, plan, createRandom(2));
    if (broken === null) continue;
    tried++;
    if (!checkPlan(broken.operation, broken.plan).breaches.some((breach) => breach.rule === rule))
      missed.push(`${rule}: ${name}`);
  }
  expect(missed).toEqual([]);
  // Some ways need more than this small plan holds (two orders on one field, a clean-out); most do not.
  expect(tried).toBeGreaterThan(mutations.length / 2);
});
