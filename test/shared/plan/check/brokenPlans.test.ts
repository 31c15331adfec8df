import { afterAll, describe, expect, test } from "vitest";
import { createRandom } from "../../../../services/solver/random.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { type RuleName, ruleNames } from "../../../../shared/plan/check/report.ts";
import { type Mutation, mutations } from "../../../support/mutations.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

/** Seeded variations of each way to break the plan. */
const variations = 5;

interface Tally {
  tried: number;
  caught: number;
}

describe("plans broken on purpose", () => {
  const operation = richOperation();
  const plan = richPlan(operation);
  const tallies = new Map<RuleName, Tally>(ruleNames.map((rule) => [rule, { tried: 0, caught: 0 }]));

  /** Seeds whose broken plan does not have a breach of the broken rule. */
  function missedSeeds({ rule, mutate }: Mutation, tally: Tally): number[] {
    const missed: number[] = [];
    for (let seed = 1; seed <= variations; seed++) {
      const broken = mutate(operation, plan, createRandom(seed));
      if (broken === null) continue;
      tally.tried++;
      const { ok, breaches } = checkPlan(broken.operation, broken.plan);
      if (!ok && breaches.some((breach) => breach.rule === rule)) tally.caught++;
      else missed.push(seed);
    }
    return missed;
  }

  test.each(mutations.map((one) => ({ ...one, label: `${one.rule}: ${one.name}` })))("$label", (mutation) => {
    const before = structuredClone({ operation, plan });
    const tally = { tried: 0, caught: 0 };
    expect(missedSeeds(mutation, tally)).toEqual([]);
    expect(tally.tried).toBeGreaterThan(0);
    expect({ operation, plan }).toEqual(before);
    const sum = tallies.get(mutation.rule)!;
    sum.tried += tally.tried;
    sum.caught += tally.caught;
  });

  test("every rule is broken in some way", () => {
    const broken = new Set(mutations.map((mutation) => mutation.rule));
    expect(ruleNames.filter((rule) => !broken.has(rule))).toEqual([]);
  });

  afterAll(() => {
    const rows = [...tallies].map(([rule, { tried, caught }]) => `${rule.padEnd(16)} ${tried} tried, ${caught} caught`);
    const tried = [...tallies.values()].reduce((sum, tally) => sum + tally.tried, 0);
    const caught = [...tallies.values()].reduce((sum, tally) => sum + tally.caught, 0);
    console.log([...rows, `${"all".padEnd(16)} ${tried} tried, ${caught} caught`].join("\n"));
  });
});
