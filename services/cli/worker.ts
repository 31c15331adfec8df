import { connectQueue } from "../queue/connect.ts";
import { partQueue, planQueue } from "../queue/queue.ts";
import { connectStore } from "../store/connect.ts";
import { usualThreads } from "../threads/usualThreads.ts";
import { concludeStudy } from "../worker/concludeStudy.ts";
import { startPartWorker } from "../worker/partWorker.ts";
import { startPlanWorker } from "../worker/planWorker.ts";
import type { TellJob } from "../worker/workPiece.ts";

export interface WorkerOptions {
  readonly databaseUrl: string;
  readonly redisUrl: string | null;
  readonly threads: number | null;
  readonly runsAtOnce: number | null;
  readonly drainSeconds: number;
  readonly onError: (error: unknown) => void;
  readonly onJob: TellJob;
}

const stopWithinMs = 10_000;

export interface RunningWorker {
  /** Takes nothing new; what runs may end within `drainSeconds`, or until `hurry` is aborted, and goes back then. */
  close(hurry: AbortSignal): Promise<void>;
}

/** Works plan requests and parts of studies until it is closed. */
export async function runWorker(options: WorkerOptions): Promise<RunningWorker> {
  const { databaseUrl, redisUrl, threads, drainSeconds, onError, onJob } = options;
  const connections = { databaseUrl, redisUrl, onConnectionError: onError };
  const store = await connectStore({ databaseUrl, onConnectionError: onError });
  const runsAtOnce = options.runsAtOnce ?? usualThreads();
  const plans = await connectQueue({ kind: planQueue, ...connections });
  const runs = await connectQueue({ kind: partQueue(runsAtOnce), ...connections });
  const planWorker = await startPlanWorker({
    store,
    queue: plans,
    heldMeanwhile: runs,
    threadScript: new URL("../worker/planThread.ts", import.meta.url),
    threads,
    stopWithinMs,
    onError,
    onJob,
  });
  const partWorker = await startPartWorker({
    store,
    queue: runs,
    threadScript: new URL("../worker/partThread.ts", import.meta.url),
    conclude: concludeStudy,
    onError,
    onJob,
  });
  return {
    async close(hurry) {
      const enough = AbortSignal.any([hurry, AbortSignal.timeout(drainSeconds * 1000)]);
      await Promise.all([planWorker.close(enough), partWorker.close(enough)]);
      await store.close();
    },
  };
}
