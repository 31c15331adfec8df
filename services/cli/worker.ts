import { connectQueue } from "../queue/connect.ts";
import { connectStore } from "../store/connect.ts";
import { type PlanWorker, startPlanWorker } from "../worker/planWorker.ts";

export interface WorkerOptions {
  readonly databaseUrl: string;
  readonly redisUrl: string | null;
  readonly threads: number | null;
  readonly onError: (error: Error) => void;
}

const stopWithinMs = 10_000;

/** Works plan requests until it is closed. */
export async function runWorker({ databaseUrl, redisUrl, threads, onError }: WorkerOptions): Promise<PlanWorker> {
  const store = await connectStore({ databaseUrl, onConnectionError: onError });
  const queue = await connectQueue({ databaseUrl, redisUrl, onConnectionError: onError });
  const threadScript = new URL("../worker/planThread.ts", import.meta.url);
  const worker = await startPlanWorker({ store, queue, threadScript, threads, stopWithinMs, onError });
  return {
    async close() {
      await worker.close();
      await store.close();
    },
  };
}
