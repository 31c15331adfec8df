import { createPostgresQueue } from "./postgresQueue.ts";
import type { QueueKind, WorkQueue } from "./queue.ts";
import { createRedisQueue } from "./redisQueue.ts";

export interface QueueOptions {
  readonly kind: QueueKind;
  readonly databaseUrl: string;
  /** Redis is used when its address is given, the store's database otherwise. */
  readonly redisUrl: string | null;
  readonly onConnectionError: (error: Error) => void;
}

export function connectQueue({ kind, databaseUrl, redisUrl, onConnectionError }: QueueOptions): Promise<WorkQueue> {
  return redisUrl === null
    ? createPostgresQueue(kind, databaseUrl, onConnectionError)
    : createRedisQueue(kind, redisUrl, onConnectionError);
}
