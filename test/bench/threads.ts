import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { readScenario } from "../../services/scenario/read.ts";
import { type RunAsk, runPlan } from "../../services/worker/runPlan.ts";
import { moneyWords } from "../../shared/plan/words.ts";

export interface ThreadsOptions {
  readonly dir: string;
  readonly seconds: number;
  /** Of each thread, in place of seconds: what comes out then hardly depends on what else the machine does. */
  readonly iterations?: number;
  readonly threads: number;
  readonly pairs: number;
  readonly seed: number;
}

const threadScript = new URL("../../services/worker/planThread.ts", import.meta.url);
export const demoFolder = fileURLToPath(new URL("../../scenarios/demo", import.meta.url));

/** One thread, several that take over from each other, several that do not: the same seeds, in turn. False when the checker finds anything. */
export async function benchThreads(options: ThreadsOptions): Promise<boolean> {
  const { dir, seconds, iterations, threads, pairs, seed } = options;
  const read = await readScenario(dir);
  if (!read.ok) throw new Error(`${dir} is refused`);
  const { operation } = read;
  const budget = iterations === undefined ? { seconds } : { iterations };
  const ways: readonly (readonly [string, Pick<RunAsk, "threads" | "takesOver">])[] = [
    ["1 thread", { threads: 1 }],
    [`${threads} threads`, { threads }],
    [`${threads} alone`, { threads, takesOver: false }],
  ];
  console.log(
    `${operation.settings.name}: ${JSON.stringify(budget)} for each thread; cost in ${operation.settings.currency}`,
  );
  console.log(`  seed${ways.map(([name]) => name.padStart(14)).join("")}   load of the machine`);
  const costs: number[][] = ways.map(() => []);
  let isGood = true;
  for (let pair = 0; pair < pairs; pair++) {
    const row: string[] = [];
    for (const [at, [, way]] of ways.entries()) {
      const run = runPlan(threadScript, { operation, budget, seed: seed + pair, boundSeconds: 0, ...way }, () => {});
      const ran = await run.outcome;
      if (ran.status !== "planned") throw new Error(ran.status === "crashed" ? ran.message : "killed");
      isGood &&= ran.report.ok && ran.remarks.length === 0;
      costs[at]!.push(ran.plan.score.totalCents);
      row.push(moneyWords(ran.plan.score.totalCents).padStart(14));
    }
    console.log(`${String(seed + pair).padStart(6)}${row.join("")}${loadavg()[0]!.toFixed(1).padStart(22)}`);
  }
  console.log(`median${costs.map((list) => moneyWords(median(list)).padStart(14)).join("")}`);
  console.log(isGood ? "the checker passes all" : "NOT GOOD: breaches, or threads that were lost");
  return isGood;
}

function median(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
