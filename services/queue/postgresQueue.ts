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
import { createBullQueue, queueName, workerTiming } from "./bullQueue.ts";
import type { PlanQueue } from "./queue.ts";

/** The queue in the store's database, in a schema of its own. */
export async function createPostgresQueue(
  databaseUrl: string,
  onConnectionError: (error: Error) => void,
): Promise<PlanQueue> {
  await bringUpToDate(databaseUrl);
  const connection: PostgresConnectionOptions = { connectionString: databaseUrl, max: 3 };
  return createBullQueue(
    {
      queue: new Queue(queueName, { connection }, createPostgresBackend),
      relay: new Relay({ connection, backend: createPostgresRelayBackend }),
      makeWorker: (work) => new Worker(queueName, work, { ...workerTiming, connection }, createPostgresBackend),
    },
    onConnectionError,
  );
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
