import { parentPort, workerData } from "node:worker_threads";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { loadHighs } from "../linear/highs.ts";
import { planFromSnapshot, prepareOperation, startOf } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { type Snapshot, snapshotOf } from "../solver/snapshot.ts";
import { type SolveControls, solve } from "../solver/solve.ts";
import type { LeftOut } from "../solver/startFrom.ts";
import { exchangeOver } from "./exchangeOver.ts";
import { proveBound } from "./proveBound.ts";
import { joinRun } from "./runClock.ts";
import type { FromThread, ThreadInput, ToThread } from "./threadMessages.ts";

/**
 * One thread of a run: proves a bound, searches, or one after the other, then waits; the one that is told to finishes and checks the plan. Away from the main thread, which has to keep telling
 * the queue that it is alive. Each compiles the operation for itself.
 */
const input = workerData as ThreadInput;
const { operation, budget, seed, index, searches, takesOver, boundSeconds, control } = input;
const port = parentPort!;
const say = (message: FromThread) => port.postMessage(message);

const linear = await loadHighs();
const clock = joinRun(control);
const prepared = prepareOperation(operation, input.published);
const { problem } = prepared;
say({ kind: "compiled", windows: problem.windows.length });

/** How much of the search is done; 1 or more ends it. */
const doneShare = (iterations: number): number => {
  if (clock.shouldStop()) return 1;
  if ("seconds" in budget) return clock.seconds() / budget.seconds;
  return budget.iterations === 0 ? 1 : iterations / budget.iterations;
};

const exchange = exchangeOver(port, problem, takesOver);
if (boundSeconds > 0) {
  const bound = proveBound(problem, {
    linear,
    seconds: boundSeconds,
    clock,
    hear: exchange.hear,
    onBetter: (better) => say({ kind: "bound", bound: better }),
  });
  if (bound !== null) say({ kind: "bound", bound });
}

let iterations = 0;
let snapshot: Snapshot | null = null;
if (searches && (index === 0 || doneShare(0) < 1)) {
  const onLeftOut = (left: readonly LeftOut[]) => {
    if (index === 0) say({ kind: "leftOut", left });
  };
  const controls: SolveControls = {
    random: createRandom(seedOf(seed, index)),
    doneShare,
    polish: polishWith(linear, "seconds" in budget ? budget.seconds : undefined),
    exchange,
    onProgress: (progress) => say({ kind: "progress", progress }),
  };
  const start = startOf(prepared, { ...input, onLeftOut });
  if (index === 0 && start !== undefined && (input.from ?? input.published) !== undefined) {
    // Whoever plans again waits for an answer; a better one may come later.
    const plan = planFromSnapshot(prepared, snapshotOf(problem, start), { seed, iterations: 0 }, null);
    say({ kind: "first", plan, report: checkPlan(operation, plan), seconds: clock.seconds() });
  }
  const searched = solve(problem.routes, controls, start);
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
