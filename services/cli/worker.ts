import { connectQueue } from "../queue/connect.ts";
import { connectStore } from "../store/connect.ts";
import { type PlanWorker, startPlanWorker } from "../worker/planWorker.ts";

export interface WorkerOptions {
  readonly databaseUrl: string;
  readonly redisUrl: string | null;
  readonly onError: (error: Error) => void;
}

const stopWithinMs = 10_000;

/** Works plan requests until it is closed. */
export async function runWorker({ databaseUrl, redisUrl, onError }: WorkerOptions): Promise<PlanWorker> {
  const store = await connectStore({ databaseUrl, onConnectionError: onError });
  const queue = await connectQueue({ databaseUrl, redisUrl, onConnectionError: onError });
  const threadScript = new URL("../worker/planThread.ts", import.meta.url);
  const worker = await startPlanWorker({ store, queue, threadScript, stopWithinMs, onError });
  return {
    async close() {
      await worker.close();
      await store.close();
    },
  };
}
