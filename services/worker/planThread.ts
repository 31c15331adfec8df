import { parentPort, workerData } from "node:worker_threads";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { loadHighs } from "../linear/highs.ts";
import { planOperation } from "../solver/planOperation.ts";
import { polishWith } from "../solver/polish.ts";
import { createRandom } from "../solver/random.ts";
import { doneShareOf, type ThreadInput, type ThreadMessage } from "./threadMessages.ts";

/** Plans, then checks, away from the main thread, which has to keep telling the queue that it is alive. */
const { operation, budget, seed, stopFlag } = workerData as ThreadInput;
const say = (message: ThreadMessage) => parentPort!.postMessage(message);

const plan = planOperation(operation, {
  seed,
  random: createRandom(seed),
  polish: polishWith(await loadHighs(), "seconds" in budget ? budget.seconds : undefined),
  doneShare: doneShareOf(budget, stopFlag, performance.now()),
  onProgress: (progress) => say({ kind: "progress", progress }),
});
say({ kind: "planned", plan, report: checkPlan(operation, plan) });
