import { parentPort, workerData } from "node:worker_threads";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { loadHighs } from "../linear/highs.ts";
import { planFromSnapshot, prepareOperation } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { type Snapshot, snapshotOf } from "../solver/snapshot.ts";
import { solve } from "../solver/solve.ts";
import { exchangeOver } from "./exchangeOver.ts";
import { proveBound } from "./proveBound.ts";
import { joinRun } from "./runClock.ts";
import type { FromThread, ThreadInput, ToThread } from "./threadMessages.ts";

/**
 * One thread of a run: proves a bound, searches, or one after the other, then waits; the one that is told to finishes and checks the plan. Away from the main thread, which has to keep telling
 * the queue that it is alive. Each compiles the operation for itself.
 */
const { operation, budget, seed, index, searches, takesOver, boundSeconds, control } = workerData as ThreadInput;
const port = parentPort!;
const say = (message: FromThread) => port.postMessage(message);

const linear = await loadHighs();
const clock = joinRun(control);
const prepared = prepareOperation(operation);
const { problem } = prepared;

/** How much of the search is done; 1 or more ends it. */
const doneShare = (iterations: number): number => {
  if (clock.shouldStop()) return 1;
  if ("seconds" in budget) return clock.seconds() / budget.seconds;
  return budget.iterations === 0 ? 1 : iterations / budget.iterations;
};

if (boundSeconds > 0) {
  const bound = proveBound(problem, {
    linear,
    port,
    seconds: boundSeconds,
    clock,
    onBetter: (better) => say({ kind: "bound", bound: better }),
  });
  if (bound !== null) say({ kind: "bound", bound });
}

let iterations = 0;
let snapshot: Snapshot | null = null;
if (searches && (index === 0 || doneShare(0) < 1)) {
  const searched = solve(problem.routes, {
    random: createRandom(seedOf(seed, index)),
    doneShare,
    polish: polishWith(linear, "seconds" in budget ? budget.seconds : undefined),
    exchange: exchangeOver(port, problem, takesOver),
    onProgress: (progress) => say({ kind: "progress", progress }),
  });
  iterations = searched.iterations;
  snapshot = snapshotOf(problem, searched.state);
}

port.on("message", (message: ToThread) => {
  if (message.kind !== "finish") return;
  const plan = planFromSnapshot(prepared, message.snapshot, { seed, iterations: message.iterations }, message.bound);
  say({ kind: "planned", plan, report: checkPlan(operation, plan) });
});
say({ kind: "ended", iterations, snapshot });

/** The first thread has the seed itself, so that a run of one thread is the same whatever else runs beside it. */
function seedOf(given: number, thread: number): number {
  return (given + Math.imul(thread, 0x9e3779b1)) >>> 0;
}
