import { availableParallelism } from "node:os";
import { remediesText } from "../../shared/cases/remedyText.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { runRemedies } from "../worker/runRemedies.ts";
import { exitCodes, loadScenario, named, print, printJson, remark } from "./output.ts";
import { badPlan, readPlan } from "./plan/readPlan.ts";

export interface RemediesOptions {
  readonly order?: string;
  readonly iterations: number;
  readonly seconds?: number;
  readonly seed: number;
  readonly threads?: number;
  readonly json?: boolean;
}

const progressEveryMs = 2000;
/** Each holds the operation and a compiled problem. Our choice. */
const mostThreads = 4;
const threadScript = new URL("../worker/remedyThread.ts", import.meta.url);

export async function remediesVerb(dir: string, file: string, options: RemediesOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const plan = await readPlan(file);
  const { iterations, seed, seconds, order } = options;
  if (order !== undefined) named(operation.orders, "order", order);
  const report = checkPlan(operation, plan);
  if (!report.ok) throw badPlan(dir, file, report.breaches);
  const startedMs = performance.now();
  let toldMs = startedMs;
  const { remedies, remarks } = await runRemedies(
    threadScript,
    {
      operation,
      plan,
      iterations,
      seed,
      threads: options.threads ?? Math.min(mostThreads, availableParallelism()),
      ...(seconds === undefined ? {} : { seconds }),
      ...(order === undefined ? {} : { orderId: order }),
    },
    ({ tried, known }) => {
      const nowMs = performance.now();
      if (nowMs - toldMs < progressEveryMs) return;
      toldMs = nowMs;
      remark(`${((nowMs - startedMs) / 1000).toFixed(1)} s: ${tried} of ${known} tried`);
    },
  );
  for (const line of remarks) remark(line);
  if (options.json) printJson(remedies);
  else print(remediesText(remedies));
  const isSomeHelp = remedies.groups.length === 0 || remedies.groups.some(({ remedies: found }) => found.length > 0);
  return isSomeHelp ? exitCodes.good : exitCodes.answerIsNo;
}
