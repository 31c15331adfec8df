import { workerData } from "node:worker_threads";
import type { ThreadInput } from "../../../../services/worker/threadMessages.ts";

/** The real planner, of which the second thread has a bug. */
if ((workerData as ThreadInput).index === 1) throw new Error("a bug in the second thread");
await import("../../../../services/worker/planThread.ts");
