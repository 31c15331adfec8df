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
  const connection: PostgresConnectionOptions = { connectionString: databaseUrl, max: 3 };
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
    close(hurry) {
      stopMending();
      return made.close(hurry);
    },
  };
}

async function bringUpToDate(databaseUrl: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    await runMigrations(client);
  } finally {
    await client.end();
  }
}
