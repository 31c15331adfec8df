import { readFile, writeFile } from "node:fs/promises";
import { z } from "zod";
import { addDays, createCalendar } from "../../shared/model/calendar.ts";
import { localDateSchema, localDateTimeSchema } from "../../shared/model/quantities.ts";
import { type StopProgress, stopProgressSchema } from "../../shared/plan/stopProgress.ts";
import { counted } from "../../shared/plan/words.ts";
import type { Told } from "../../shared/replan/ask.ts";
import { differenceText } from "../../shared/replan/differenceText.ts";
import { asTold } from "../../shared/replan/happened.ts";
import { planDifference } from "../../shared/replan/planDifference.ts";
import { replanOperation } from "../../shared/replan/replanOperation.ts";
import { writeScenario } from "../scenario/write.ts";
import { howManyThreads } from "../worker/howManyThreads.ts";
import { runPlan } from "../worker/runPlan.ts";
import { BadInput, exitCodes, loadScenario, print, printJson, remark } from "./output.ts";
import { readPlan } from "./plan/readPlan.ts";

export interface ReplanOptions {
  readonly asOf: string;
  readonly keepUntil?: string;
  readonly near?: boolean;
  readonly progress?: string;
  readonly toldFrom?: string;
  readonly seconds: number;
  readonly iterations?: number;
  readonly seed: number;
  readonly threads?: number;
  readonly out?: string;
  readonly outDir?: string;
  readonly json?: boolean;
}

const threadScript = new URL("../worker/planThread.ts", import.meta.url);
const stopWithinMs = 10_000;

/** Plans a folder again, near to a plan that people know, and tells what is otherwise. */
export async function replanVerb(dir: string, file: string, options: ReplanOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const told = await toldBy(operation, file, options);
  const asOf = localOf(options.asOf);
  const { firstDay, days } = operation.settings;
  if (asOf >= `${addDays(firstDay, days)}T00:00`) {
    throw new BadInput([
      `--as-of ${asOf}: the operation's days are over; expected a time before ${addDays(firstDay, days)}`,
    ]);
  }
  const keepUntil = options.keepUntil;
  if (keepUntil !== undefined && !localDateSchema.safeParse(keepUntil).success) {
    throw new BadInput([`--keep-until ${keepUntil}: expected a date as 2027-06-09`]);
  }
  const changeCost = options.near === true ? "high" : "usual";
  const { operation: left, fates, remarks } = replanOperation({ operation, told: [told], asOf, keepUntil, changeCost });
  for (const { sentence } of remarks) remark(sentence);
  const { iterations, seed } = options;
  const budget = iterations === undefined ? { seconds: options.seconds } : { iterations };
  const run = runPlan(
    threadScript,
    {
      operation: left,
      published: told.plan,
      budget,
      seed,
      threads: howManyThreads(left, budget, options.threads ?? null),
      boundSeconds: 0,
      onFirst: (plan, check, seconds) => {
        const { counts } = planDifference(told, { operation: left, plan }, fates);
        const words = check.ok ? `${counted(counts.kept, "stop stays", "stops stay")}` : "the checker found breaches";
        remark(`what still holds, after ${seconds.toFixed(1)} s: ${words}`);
      },
    },
    () => undefined,
  );
  const stop = () => run.stop(stopWithinMs);
  process.on("SIGINT", stop);
  const ran = await run.outcome;
  process.off("SIGINT", stop);
  if (ran.status !== "planned") {
    remark(ran.status === "crashed" ? `no plan: ${ran.message}` : "stopped before there was a plan");
    return exitCodes.answerIsNo;
  }
  const { plan, report: check } = ran;
  const difference = planDifference(told, { operation: left, plan }, fates);
  if (options.json) printJson({ difference, remarks, plan, check });
  else print(differenceText(difference));
  if (!check.ok) {
    remark(`the checker found ${check.breaches.length} breaches: this plan is not good and was not written`);
    return exitCodes.answerIsNo;
  }
  if (options.outDir !== undefined) {
    const written = await writeScenario(options.outDir, left);
    if (!written.ok) throw new BadInput([`--out-dir ${options.outDir}: ${JSON.stringify(written)}`]);
  }
  if (options.out !== undefined) await writeFile(options.out, `${JSON.stringify(plan, null, 1)}\n`);
  return exitCodes.good;
}

async function toldBy(operation: Told["operation"], file: string, options: ReplanOptions): Promise<Told> {
  const plan = await readPlan(file);
  const before = options.toldFrom === undefined ? operation : await loadScenario(options.toldFrom);
  if (options.progress !== undefined)
    return { plan, operation: before, progress: await readProgress(options.progress) };
  remark("no --progress: all is taken to have gone as told up to then");
  const calendar = createCalendar(plan);
  return {
    plan,
    operation: before,
    progress: asTold(plan, calendar.isoOfMin(calendar.minOfLocal(localOf(options.asOf)))),
  };
}

function localOf(asOf: string): string {
  if (localDateTimeSchema.safeParse(asOf).success) return asOf;
  throw new BadInput([`--as-of ${asOf}: expected a local time as 2027-06-09T10:30`]);
}

async function readProgress(file: string): Promise<StopProgress[]> {
  const text = await readFile(file, "utf8").catch((error: Error) => {
    throw new BadInput([`${file}: ${error.message}; expected a file with the progress of stops`]);
  });
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch (error) {
    throw new BadInput([`${file}: ${(error as Error).message}; expected JSON`]);
  }
  const parsed = z.array(stopProgressSchema).safeParse(raw);
  if (parsed.success) return parsed.data;
  throw new BadInput(parsed.error.issues.map(({ path, message }) => `${file}, ${path.join(".")}: ${message}`));
}
