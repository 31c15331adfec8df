import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import { createChangeFeed } from "./changeFeed.ts";
import { migrate } from "./migrations.ts";
import { createPostgresStore } from "./postgresStore.ts";
import type { Store } from "./store.ts";
import type { Tables } from "./tables.ts";

export interface ConnectOptions {
  readonly databaseUrl: string;
  /** Told about connections that break while idle; the pool opens new ones by itself. */
  readonly onConnectionError: (error: Error) => void;
}

/** Opens the store and brings its tables up to date. */
export async function connectStore(options: ConnectOptions): Promise<Store> {
  const pool = new pg.Pool({ connectionString: options.databaseUrl, max: 8 });
  // Without a listener a connection that breaks while idle would end the process.
  pool.on("error", options.onConnectionError);
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  try {
    await migrate(db);
  } catch (error) {
    await db.destroy();
    throw error;
  }
  return createPostgresStore(db, createChangeFeed(options));
}
