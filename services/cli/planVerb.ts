import { access, constants, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { weekText } from "../../shared/plan/text.ts";
import { weekView } from "../../shared/plan/weekView.ts";
import { counted } from "../../shared/plan/words.ts";
import { loadHighs } from "../linear/highs.ts";
import { planOperation } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import type { LeftOut } from "../solver/startFrom.ts";
import { BadInput, exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { exportProblem } from "./plan/exportProblem.ts";
import { importTours } from "./plan/importTours.ts";
import { readPlan } from "./plan/readPlan.ts";

export interface PlanOptions {
  readonly seconds: number;
  readonly iterations?: number;
  readonly seed: number;
  readonly out?: string;
  readonly json?: boolean;
  readonly exportProblem?: string;
  readonly importTours?: string;
  readonly from?: string;
  readonly published?: string;
}

const progressEveryMs = 1000;

export async function planVerb(dir: string, options: PlanOptions): Promise<number> {
  const operation = await loadScenario(dir);
  for (const [name, file] of [["--out", options.out] as const, ["--export-problem", options.exportProblem] as const]) {
    if (file !== undefined) await mustBeWritable(name, file);
  }
  if (options.exportProblem !== undefined) await exportProblem(operation, options.exportProblem);
  if (options.importTours !== undefined) return importTours(operation, options.importTours, options);
  if (options.exportProblem !== undefined) return exitCodes.good;
  const from = options.from === undefined ? undefined : await readPlan(options.from);
  const published = options.published === undefined ? undefined : await readPlan(options.published);
  const linear = await loadHighs();
  const startedMs = performance.now();
  let toldMs = startedMs;
  const plan = planOperation(operation, {
    ...(from === undefined ? {} : { from }),
    ...(published === undefined ? {} : { published }),
    onLeftOut: (left) => tellLeftOut(options.from ?? options.published!, left),
    seed: options.seed,
    random: createRandom(options.seed),
    polish: polishWith(linear, options.iterations === undefined ? options.seconds : undefined),
    doneShare: (iterations) =>
      options.iterations === undefined
        ? (performance.now() - startedMs) / (1000 * options.seconds)
        : iterations / options.iterations,
    onProgress: ({ iterations, share, servedHa, totalCents }) => {
      const nowMs = performance.now();
      if (nowMs - toldMs < progressEveryMs && share < 1) return;
      toldMs = nowMs;
      remark(
        `${((nowMs - startedMs) / 1000).toFixed(1)} s, ${iterations} iterations: ${servedHa.toFixed(1)} ha, cost ${(totalCents / 100).toFixed(2)}`,
      );
    },
  });
  const check = checkPlan(operation, plan);
  if (options.json) printJson({ plan, check });
  else print(weekText(weekView(operation, plan, check)));
  if (!check.ok) {
    remark(`the checker found ${check.breaches.length} breaches: this plan is not good and was not written`);
    return exitCodes.answerIsNo;
  }
  if (options.out !== undefined) await writeFile(options.out, `${JSON.stringify(plan, null, 1)}\n`);
  return exitCodes.good;
}

/** What of a plan to start from no longer holds. */
function tellLeftOut(file: string, left: readonly LeftOut[]): void {
  if (left.length === 0) remark(`${file}: every stop on these days still holds`);
  else remark(`${file}: ${counted(left.length, "stop no longer holds", "stops no longer hold")} and may go elsewhere`);
  for (const { crewId, date, blockId, reason } of left) remark(`  ${crewId} ${date}, ${blockId}: ${reason}`);
}

/** Told before the search, not after it. */
async function mustBeWritable(name: string, file: string): Promise<void> {
  try {
    await access(dirname(file), constants.W_OK);
  } catch (error) {
    throw new BadInput([
      `${name} ${file}: ${(error as Error).message}; expected a file in a folder that can be written`,
    ]);
  }
}
