import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { planOperation } from "../../services/solver/planOperation.ts";
import { createRandom } from "../../services/solver/random.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { ruleNames } from "../../shared/plan/check/report.ts";
import { mutations } from "../support/mutations.ts";

/** Orders, crews and days of seed n: from one crew on one day to twelve over nine days. */
function sizeOf(seed: number): { orders: number; crews: number; days: number } {
  const crews = 1 + (seed % 12);
  return { crews, days: 1 + ((seed * 5) % 9), orders: crews * (4 + ((seed * 7) % 11)) };
}

/**
 * Plan generated operations of mixed sizes and judge every plan; then break every nth in each way that there is and see each caught. Fails when the
 * checker finds anything in a plan, or misses anything in a broken one.
 */
export function benchPlans(seeds: number, iterations: number, breakEvery: number): boolean {
  const totals = { plans: 0, blocks: 0, planned: 0, orderedHa: 0, servedHa: 0, checks: 0, breaches: 0 };
  const tried = new Map<string, { tried: number; caught: number }>(
    ruleNames.map((rule) => [rule, { tried: 0, caught: 0 }]),
  );
  for (let seed = 1; seed <= seeds; seed++) {
    const operation = generateOperation({ ...sizeOf(seed), seed });
    const plan = planOperation(operation, {
      seed,
      random: createRandom(seed),
      doneShare: (done) => done / iterations,
    });
    const report = checkPlan(operation, plan);
    totals.plans++;
    totals.blocks += plan.blocks.length;
    totals.planned += plan.crewDays
      .flatMap(({ activities }) => activities)
      .filter(({ kind }) => kind === "work").length;
    totals.orderedHa += plan.score.orderedHa;
    totals.servedHa += plan.score.servedHa;
    totals.checks += Object.values(report.checked).reduce((sum, count) => sum + count, 0);
    totals.breaches += report.breaches.length;
    for (const { rule, sentence } of report.breaches) console.log(`seed ${seed}: ${rule}: ${sentence}`);
    for (const { rule, name, mutate } of seed % breakEvery === 0 ? mutations : []) {
      const broken = mutate(operation, plan, createRandom(seed));
      if (broken === null) continue;
      const count = tried.get(rule)!;
      count.tried++;
      if (checkPlan(broken.operation, broken.plan).breaches.some((breach) => breach.rule === rule)) count.caught++;
      else console.log(`seed ${seed}: ${rule} broken by "${name}" was not caught`);
    }
    if (seed % 20 === 0) console.error(`${seed} of ${seeds}`);
  }
  console.log(
    `${totals.plans} plans, ${totals.blocks} blocks of which ${totals.planned} planned, ${totals.servedHa.toFixed(0)} of ${totals.orderedHa.toFixed(0)} ha; ${totals.checks} checks, ${totals.breaches} breaches`,
  );
  console.log("rule                  broken  caught");
  for (const [rule, count] of tried) {
    console.log(`${rule.padEnd(20)} ${String(count.tried).padStart(7)} ${String(count.caught).padStart(7)}`);
  }
  const sum = [...tried.values()].reduce((all, one) => ({
    tried: all.tried + one.tried,
    caught: all.caught + one.caught,
  }));
  console.log(`${"all".padEnd(20)} ${String(sum.tried).padStart(7)} ${String(sum.caught).padStart(7)}`);
  return totals.breaches === 0 && sum.tried === sum.caught;
}
