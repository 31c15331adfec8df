import { setTimeout as sleep } from "node:timers/promises";
import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import { createChangeFeed } from "./changeFeed.ts";
import { HeardClient } from "./heardClient.ts";
import { migrate } from "./migrations.ts";

export { NewerStore } from "./migrations.ts";

import { createPool } from "./pool.ts";
import { createPostgresStore } from "./postgresStore.ts";
import type { Store } from "./store.ts";
import type { Tables } from "./tables.ts";
import { storeTrouble } from "./trouble.ts";

export interface ConnectOptions {
  readonly databaseUrl: string;
  /** Told about connections that break while idle; the pool opens new ones by itself. */
  readonly onConnectionError: (error: Error) => void;
}

/** Opens the store and brings its tables up to date. */
export async function connectStore(options: ConnectOptions): Promise<Store> {
  const { databaseUrl } = options;
  let closing = false;
  // A server that stops right after us may still end a connection that we are letting go of.
  const onConnectionError = (error: Error) => {
    if (!closing) options.onConnectionError(error);
  };
  await whenReachable(() => bringUpToDate(databaseUrl), onConnectionError);
  const pool = createPool(databaseUrl, onConnectionError);
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  const store = createPostgresStore(db, createChangeFeed({ databaseUrl, onConnectionError }), () => ({
    open: pool.totalCount,
    idle: pool.idleCount,
    waiting: pool.waitingCount,
  }));
  return {
    ...store,
    close() {
      closing = true;
      return store.close();
    },
  };
}

/** Servers that start together, as after a power cut, start in any order. Our choice how long. */
const patienceMs = 30_000;
const againMs = 500;

async function whenReachable(work: () => Promise<void>, onWait: (error: Error) => void): Promise<void> {
  const deadlineMs = performance.now() + patienceMs;
  for (;;) {
    try {
      return await work();
    } catch (error) {
      if (storeTrouble(error)?.kind !== "unreachable" || performance.now() > deadlineMs) throw error;
      onWait(error as Error);
      await sleep(againMs);
    }
  }
}

/** On a connection of its own, whose statements may take as long as they take, as may waiting for another process that is at it. */
async function bringUpToDate(databaseUrl: string): Promise<void> {
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    Client: HeardClient,
    max: 1,
    connectionTimeoutMillis: 10_000,
  });
  // Also of a server that stops while the connection is being let go of.
  pool.on("error", () => undefined);
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  try {
    await migrate(db);
  } finally {
    await db.destroy();
  }
}
