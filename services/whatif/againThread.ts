import { parentPort, workerData } from "node:worker_threads";
import type { AgainOutcome } from "../../shared/cases/bottlenecks.ts";
import type { Change } from "../../shared/cases/change.ts";
import { loadHighs } from "../linear/highs.ts";
import { type AgainAsk, planAgain } from "./planAgain.ts";

/** Plans again with one list of changes after the other, as they come. */
const ask = workerData as AgainAsk;
const port = parentPort!;
const linear = await loadHighs();

port.on("message", (changes: readonly Change[]) => {
  const outcome: AgainOutcome = planAgain(ask, changes, linear);
  port.postMessage(outcome);
});
