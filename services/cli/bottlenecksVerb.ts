import { bottlenecksText } from "../../shared/cases/bottlenecksText.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { useText } from "../../shared/plan/useText.ts";
import { loadHighs } from "../linear/highs.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { planOperation } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { usualThreads } from "../threads/usualThreads.ts";
import { findBottlenecks } from "../whatif/findBottlenecks.ts";
import { BadInput, exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { badPlan, readPlan } from "./plan/readPlan.ts";

export interface BottlenecksOptions {
  readonly plan?: string;
  readonly seconds: number;
  readonly try: number;
  readonly seeds: number;
  readonly iterations: number;
  readonly threads?: number;
  readonly json?: boolean;
}

export async function bottlenecksVerb(dir: string, options: BottlenecksOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const linear = await loadHighs();
  const plan = await presentPlan(operation, linear, dir, options);
  const { seconds, seeds, iterations, threads = usualThreads() } = options;
  const ask = { operation, plan, seconds, tried: options.try, seeds, iterations, threads };
  const found = await findBottlenecks(ask, linear, talker());
  if (options.json) printJson(found);
  else print([...useText(found.use, found.hours), "", ...bottlenecksText(found.units, found)].join("\n"));
  return exitCodes.good;
}

/** The plan in the file, which has to be good, or one that is searched for now. */
async function presentPlan(
  operation: Operation,
  linear: LinearSolver,
  dir: string,
  { plan: file, seconds }: BottlenecksOptions,
): Promise<Plan> {
  const plan =
    file === undefined
      ? planOperation(operation, {
          seed: 1,
          random: createRandom(1),
          doneShare: shareOf(seconds),
          polish: polishWith(linear, seconds),
        })
      : await readPlan(file);
  const { ok, breaches } = checkPlan(operation, plan);
  if (ok) return plan;
  if (file !== undefined) throw badPlan(dir, file, breaches);
  throw new BadInput([`the plan that was found breaks rules in ${breaches.length} places`]);
}

function shareOf(seconds: number): () => number {
  const startedMs = performance.now();
  return () => (performance.now() - startedMs) / (1000 * seconds);
}

function talker(): (words: string) => void {
  const startedMs = performance.now();
  return (words) => remark(`${((performance.now() - startedMs) / 1000).toFixed(1)} s: ${words}`);
}
