import { Queue, Relay, Worker } from "bullmq";
import { createBullQueue, workerTiming } from "./bullQueue.ts";
import type { QueueKind, WorkQueue } from "./queue.ts";

export function createRedisQueue(
  kind: QueueKind,
  redisUrl: string,
  onConnectionError: (error: Error) => void,
): Promise<WorkQueue> {
  const { name, atOnce: concurrency } = kind;
  const connection = { url: redisUrl };
  // While Redis is away what adds is told so at once, in place of lying in memory until it is back.
  const failsFast = { ...connection, enableOfflineQueue: false, maxRetriesPerRequest: 1 };
  // A worker waits for Redis to come back however long that takes, so its commands are never given up.
  const options = { ...workerTiming, concurrency, connection: { ...connection, maxRetriesPerRequest: null } };
  return createBullQueue(
    {
      name,
      queue: new Queue(name, { connection: failsFast }),
      relay: new Relay({ connection }),
      makeWorker: (work) => new Worker(name, work, options),
    },
    onConnectionError,
  );
}
