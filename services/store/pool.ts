import type { Socket } from "node:net";
import pg from "pg";
import { HeardClient } from "./heardClient.ts";

/** Our choice: nothing that a request waits for may take longer. The server's own limit comes first, so that it lets go of its locks; ours is for a server that says nothing any more. */
const connectWithinMs = 3_000;
const statementWithinMs = 15_000;
const lockWithinMs = 5_000;
const idleInTransactionMs = 20_000;
const answerWithinMs = 18_000;
const connections = 8;

/** A connection on which an answer stays out is of no more use: what is sent after it would wait behind it. */
class BoundedClient extends HeardClient {
  override query(...args: unknown[]): never {
    const asked = (super.query as (...args: unknown[]) => unknown).apply(this, args);
    if (asked instanceof Promise) asked.catch((error: unknown) => this.#closeIfSilent(error));
    return asked as never;
  }

  #closeIfSilent(error: unknown): void {
    if (!(error instanceof Error) || error.message !== "Query read timeout") return;
    (this as unknown as { connection: { stream: Socket } }).connection.stream.destroy();
  }
}

export function createPool(databaseUrl: string, onConnectionError: (error: Error) => void): pg.Pool {
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    Client: BoundedClient as never,
    max: connections,
    keepAlive: true,
    connectionTimeoutMillis: connectWithinMs,
    statement_timeout: statementWithinMs,
    lock_timeout: lockWithinMs,
    idle_in_transaction_session_timeout: idleInTransactionMs,
    query_timeout: answerWithinMs,
  });
  // Of a connection that breaks while it is idle.
  pool.on("error", onConnectionError);
  return pool;
}
