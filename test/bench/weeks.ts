import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { ordersPerCrew, type WeekOutcome, type WeekRequest } from "./weeks/runWeek.ts";

export interface WeeksOptions {
  readonly orders: readonly number[];
  readonly longSeconds: number;
  readonly iterationOrders: readonly number[];
  readonly iterationSeconds: number;
  readonly seed: number;
}

/** What is wanted of a week: seconds to the first checked plan, of a search after which it is within 1 % of a long run, and most memory. */
const wanted = new Map([
  [500, { firstS: 1, closeS: 10 }],
  [2000, { firstS: 5, closeS: 60 }],
]);
const searchS = [10, 60];
const closePct = 1;
const mostMb = 1024;

const runFile = fileURLToPath(new URL("./weeks/runFile.ts", import.meta.url));

/** Weeks of the demo's kind at other sizes. What is wanted and not met is printed and fails nothing: it depends on the machine. False when the checker finds anything. */
export async function benchWeeks(options: WeeksOptions): Promise<boolean> {
  const { seed, longSeconds } = options;
  const unmet: string[] = [];
  let breaches = 0;
  if (options.orders.length > 0) {
    console.log(
      `weeks of 7 days, one crew for ${ordersPerCrew} orders, seed ${seed}; each run in a process of its own, times are the processor's`,
    );
    console.log(
      "  orders   search s     plan ms  checked ms  on the wall ms          cost   beside long %   iterations/s   peak MB",
    );
  }
  for (const orders of options.orders) {
    const run = (seconds: number) => runApart({ what: "plan", orders, seed, seconds });
    const long = await run(longSeconds);
    const shorter = new Map<number, WeekOutcome>();
    for (const seconds of [0, ...searchS.filter((one) => one < longSeconds)]) shorter.set(seconds, await run(seconds));
    const all = [...shorter, [longSeconds, long] as const];
    for (const [seconds, outcome] of all) {
      breaches += outcome.breaches;
      console.log(planRow(orders, seconds, outcome, long));
      if (outcome.peakMb > mostMb)
        unmet.push(`${orders} orders, ${seconds} s: ${outcome.peakMb.toFixed(0)} MB, wanted under ${mostMb}`);
    }
    const aim = wanted.get(orders);
    if (aim === undefined) continue;
    const { wholeMs } = shorter.get(0)!;
    if (wholeMs > 1000 * aim.firstS)
      unmet.push(`${orders} orders: first checked plan after ${(wholeMs / 1000).toFixed(1)} s, wanted ${aim.firstS} s`);
    const close = shorter.get(aim.closeS);
    const offPct = close === undefined ? 0 : gapPct(close, long);
    if (close === undefined)
      unmet.push(
        `${orders} orders: the long run is no longer than ${aim.closeS} s, so nothing is known of the cost then`,
      );
    else if (offPct > closePct)
      unmet.push(
        `${orders} orders: ${offPct.toFixed(2)} % dearer after ${aim.closeS} s than after ${longSeconds} s, wanted ${closePct} %`,
      );
  }
  if (options.iterationOrders.length > 0) {
    console.log(`\nthe loop of the search alone, ${options.iterationSeconds} s of it, without the linear engine`);
    console.log("  orders   microseconds an iteration   iterations   first plan ms   peak MB");
  }
  for (const orders of options.iterationOrders) {
    const outcome = await runApart({ what: "iterations", orders, seed, seconds: options.iterationSeconds });
    console.log(
      `${String(orders).padStart(8)}${((1000 * outcome.loopMs) / outcome.iterations).toFixed(0).padStart(28)}${String(outcome.iterations).padStart(13)}${outcome.firstMs.toFixed(0).padStart(16)}${outcome.peakMb.toFixed(0).padStart(10)}`,
    );
  }
  console.log("");
  for (const line of unmet) console.log(`NOT MET: ${line}`);
  if (unmet.length === 0 && options.orders.some((orders) => wanted.has(orders)))
    console.log("all that is wanted is met");
  console.log(breaches === 0 ? "no breach in any plan" : `${breaches} BREACHES`);
  return breaches === 0;
}

function planRow(orders: number, seconds: number, outcome: WeekOutcome, long: WeekOutcome): string {
  const { iterations, loopMs } = outcome;
  return [
    String(orders).padStart(8),
    String(seconds === 0 ? "first plan" : seconds).padStart(11),
    outcome.firstMs.toFixed(0).padStart(12),
    outcome.wholeMs.toFixed(0).padStart(12),
    outcome.wallMs.toFixed(0).padStart(16),
    (outcome.costCents / 100).toFixed(0).padStart(14),
    gapPct(outcome, long).toFixed(2).padStart(16),
    (iterations === 0 ? "" : ((1000 * iterations) / loopMs).toFixed(0)).padStart(15),
    outcome.peakMb.toFixed(0).padStart(10),
  ].join("");
}

function gapPct(outcome: WeekOutcome, long: WeekOutcome): number {
  return 100 * (outcome.costCents / long.costCents - 1);
}

function runApart(request: WeekRequest): Promise<WeekOutcome> {
  return new Promise((resolve, reject) => {
    const child = fork(runFile, [JSON.stringify(request)], {
      execArgv: ["--import", import.meta.resolve("tsx")],
    });
    let outcome: WeekOutcome | undefined;
    child.on("message", (message) => {
      outcome = message as WeekOutcome;
    });
    child.on("exit", (code) => {
      if (outcome !== undefined) resolve(outcome);
      else reject(new Error(`a week of ${request.orders} orders ended with code ${code}`));
    });
  });
}
