import { HeardClient } from "../store/heardClient.ts";

/** Nothing in a queue is put off for longer (endings.ts, bullQueue.ts): what is, was noted while the clock was wrong. Our choice. */
const farAheadMs = 600_000;
const everyMs = 15_000;

/**
 * On Postgres BullMQ notes times by the clock of whichever process writes them. When that clock was ahead and is set back, whatever was put off, locked or looked after last would wait for as long as it was
 * ahead. What lies too far ahead is brought back to now. The returned function ends it.
 */
export function mendClock(queue: string, databaseUrl: string, onError: (error: Error) => void): () => void {
  const timer = setInterval(() => {
    mend(queue, databaseUrl).catch(onError);
  }, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}

export async function mend(queue: string, databaseUrl: string): Promise<void> {
  const client = new HeardClient({
    connectionString: databaseUrl,
    connectionTimeoutMillis: 3_000,
    query_timeout: 5_000,
  });
  try {
    await client.connect();
    const nowMs = Date.now();
    await client.query(
      "delete from bullmq.meta where queue = $1 and field = 'stalled-check' and value::bigint > $2::bigint",
      [queue, nowMs + farAheadMs],
    );
    await client.query(
      `update bullmq.job set process_at_ms = least(process_at_ms, $2::bigint), locked_until_ms = least(locked_until_ms, $2::bigint)
        where queue = $1 and state in ('delayed', 'active') and greatest(process_at_ms, locked_until_ms) > $3::bigint`,
      [queue, nowMs, nowMs + farAheadMs],
    );
  } finally {
    await client.end().catch(() => undefined);
  }
}
