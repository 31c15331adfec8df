import { access, constants, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { gapWords } from "../../shared/plan/proof.ts";
import { weekText } from "../../shared/plan/text.ts";
import { weekView } from "../../shared/plan/weekView.ts";
import { counted, moneyWords } from "../../shared/plan/words.ts";
import type { LeftOut } from "../solver/startFrom.ts";
import { howManyThreads, usualBoundSeconds } from "../worker/howManyThreads.ts";
import { type RunAsk, type RunOutcome, runPlan } from "../worker/runPlan.ts";
import { BadInput, exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { exportProblem } from "./plan/exportProblem.ts";
import { importTours } from "./plan/importTours.ts";
import { readPlan } from "./plan/readPlan.ts";

export interface PlanOptions {
  readonly seconds: number;
  readonly iterations?: number;
  readonly seed: number;
  readonly threads?: number;
  readonly bound?: number;
  /** Percent. */
  readonly gap?: number;
  readonly out?: string;
  readonly json?: boolean;
  readonly exportProblem?: string;
  readonly importTours?: string;
  readonly from?: string;
  readonly published?: string;
}

const progressEveryMs = 1000;
const stopWithinMs = 10_000;
const threadScript = new URL("../worker/planThread.ts", import.meta.url);

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
  const plans = { ...(from === undefined ? {} : { from }), ...(published === undefined ? {} : { published }) };
  const ran = await runSearch(operation, plans, options);
  if (ran.status !== "planned") {
    remark(ran.status === "crashed" ? `no plan: ${ran.message}` : "stopped before there was a plan");
    return exitCodes.answerIsNo;
  }
  const { plan, report: check } = ran;
  for (const line of ran.remarks) remark(line);
  if (options.json) printJson({ plan, check });
  else print(weekText(weekView(operation, plan, check)));
  if (!check.ok) {
    remark(`the checker found ${check.breaches.length} breaches: this plan is not good and was not written`);
    return exitCodes.answerIsNo;
  }
  if (options.out !== undefined) await writeFile(options.out, `${JSON.stringify(plan, null, 1)}\n`);
  return exitCodes.good;
}

async function runSearch(
  operation: Operation,
  plans: Pick<RunAsk, "from" | "published">,
  options: PlanOptions,
): Promise<RunOutcome> {
  const { iterations, seed, gap } = options;
  const budget = iterations === undefined ? { seconds: options.seconds } : { iterations };
  const threads = howManyThreads(operation, budget, options.threads ?? null);
  if (options.threads !== undefined && threads < options.threads)
    remark(
      iterations === undefined
        ? `the operation is large: ${counted(threads, "thread", "threads")}, so that memory lasts`
        : "by iterations there is one thread, so that the plan is the same every time",
    );
  const boundSeconds = options.bound ?? usualBoundSeconds(budget, threads);
  if (gap !== undefined && boundSeconds === 0)
    throw new BadInput([`--gap ${gap}: without a bound no gap is known; expected --bound SECONDS beside it`]);
  const ask: RunAsk = {
    operation,
    ...plans,
    budget,
    seed,
    threads,
    boundSeconds,
    ...(gap === undefined ? {} : { enoughGapFrac: gap / 100 }),
    onLeftOut: (left) => tellLeftOut(options.from ?? options.published!, left),
  };
  const startedMs = performance.now();
  let toldMs = startedMs;
  const run = runPlan(threadScript, ask, (progress) => {
    const nowMs = performance.now();
    if (nowMs - toldMs < progressEveryMs && progress.share < 1) return;
    toldMs = nowMs;
    remark(progressLine((nowMs - startedMs) / 1000, progress));
  });
  // Whoever is in a hurry gets the best plan so far. Further signals change nothing: one Ctrl-C often arrives twice, from the terminal and from npm.
  const stop = () => run.stop(stopWithinMs);
  process.on("SIGINT", stop);
  const ran = await run.outcome;
  process.off("SIGINT", stop);
  return ran;
}

function progressLine(seconds: number, { iterations, share, servedHa, totalCents, gapFrac }: PlanProgress): string {
  const gap = gapFrac === undefined ? "" : `, ${gapWords(gapFrac)}`;
  return `${seconds.toFixed(1)} s, ${(100 * share).toFixed(0)} %, ${iterations} iterations: ${servedHa.toFixed(1)} ha, cost ${moneyWords(totalCents)}${gap}`;
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
