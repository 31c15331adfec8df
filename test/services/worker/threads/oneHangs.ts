import { workerData } from "node:worker_threads";
import type { ThreadInput } from "../../../../services/worker/threadMessages.ts";

/** The real planner, of which the second thread never comes to an end. */
while ((workerData as ThreadInput).index === 1);
await import("../../../../services/worker/planThread.ts");
