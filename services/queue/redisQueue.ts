import { Queue, Relay, Worker } from "bullmq";
import { createBullQueue, queueName, workerTiming } from "./bullQueue.ts";
import type { PlanQueue } from "./queue.ts";

export function createRedisQueue(redisUrl: string, onConnectionError: (error: Error) => void): Promise<PlanQueue> {
  const connection = { url: redisUrl };
  return createBullQueue(
    {
      queue: new Queue(queueName, { connection }),
      relay: new Relay({ connection }),
      // A worker waits for Redis to come back however long that takes, so its commands are never given up.
      makeWorker: (work) =>
        new Worker(queueName, work, { ...workerTiming, connection: { ...connection, maxRetriesPerRequest: null } }),
    },
    onConnectionError,
  );
}
