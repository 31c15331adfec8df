import {
  createPostgresBackend,
  createPostgresRelayBackend,
  type PostgresConnectionOptions,
  Queue,
  Relay,
  runMigrations,
  Worker,
} from "bullmq";
import pg from "pg";
import { HeardClient } from "../store/heardClient.ts";
import { createBullQueue, workerTiming } from "./bullQueue.ts";
import { mendClock } from "./mendClock.ts";
import type { QueueKind, WorkQueue } from "./queue.ts";

/** The queue in the store's database, in a schema of its own. */
export async function createPostgresQueue(
  kind: QueueKind,
  databaseUrl: string,
  onConnectionError: (error: Error) => void,
): Promise<WorkQueue> {
  const { name, atOnce: concurrency } = kind;
  await bringUpToDate(databaseUrl);
  const pool = createQueuePool(databaseUrl);
  const connection = pool as unknown as PostgresConnectionOptions;
  const stopMending = mendClock(name, databaseUrl, onConnectionError);
  const made = await createBullQueue(
    {
      name,
      queue: new Queue(name, { connection }, createPostgresBackend),
      relay: new Relay({ connection, backend: createPostgresRelayBackend }),
      makeWorker: (work) => new Worker(name, work, { ...workerTiming, concurrency, connection }, createPostgresBackend),
    },
    onConnectionError,
  );
  return {
    ...made,
    async close(hurry) {
      stopMending();
      await made.close(hurry);
      if (!pool.ending) await pool.end();
    },
  };
}

/** Our choice: two that listen, and room for what is asked beside. */
const connections = 6;

/** BullMQ's own pool would end the process with a server that is killed at the wrong moment (heardClient.ts). */
function createQueuePool(databaseUrl: string): pg.Pool {
  return new pg.Pool({
    connectionString: databaseUrl,
    Client: HeardClient,
    max: connections,
    keepAlive: true,
    options: "-c search_path=bullmq",
  });
}

async function bringUpToDate(databaseUrl: string): Promise<void> {
  const client = new HeardClient({ connectionString: databaseUrl });
  await client.connect();
  try {
    await runMigrations(client);
  } finally {
    await client.end();
  }
}
