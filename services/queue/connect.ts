import { createPostgresQueue } from "./postgresQueue.ts";
import type { PlanQueue } from "./queue.ts";
import { createRedisQueue } from "./redisQueue.ts";

export interface QueueOptions {
  readonly databaseUrl: string;
  /** Redis is used when its address is given, the store's database otherwise. */
  readonly redisUrl: string | null;
  readonly onConnectionError: (error: Error) => void;
}

export function connectQueue(options: QueueOptions): Promise<PlanQueue> {
  return options.redisUrl === null
    ? createPostgresQueue(options.databaseUrl, options.onConnectionError)
    : createRedisQueue(options.redisUrl, options.onConnectionError);
}
