import { parentPort, workerData } from "node:worker_threads";
import type { FromThread, ThreadInput } from "../../../../services/worker/threadMessages.ts";

/** The real planner; the thread for the bound says what the seed is: a bound in cents. */
const { boundSeconds, seed } = workerData as ThreadInput;
if (boundSeconds > 0) {
  const say = (message: FromThread) => parentPort!.postMessage(message);
  const proven = { method: "routes" as const, finished: true, worth: [] };
  say({ kind: "bound", bound: { ...proven, boundCents: seed } });
  say({ kind: "ended", iterations: 0, snapshot: null });
} else {
  await import("../../../../services/worker/planThread.ts");
}
