import { sql } from "kysely";
import { type Heard, silentAfterS } from "./starts.ts";

export const unfinished = ["queued", "running"] as const;
export const now = sql<Date>`now()`;
export const json = <T>(value: unknown) => sql<T>`${JSON.stringify(value)}::jsonb`;
/** For columns of json: the text stays as it is. */
export const asWritten = (value: unknown) => sql<string>`${JSON.stringify(value)}::json`;

/** Of a row with `status` and `reported_at`: a worker has it, and has told not long ago that it lives. */
export const isAlive = sql<boolean>`(status = 'running' and coalesce(reported_at > now() - ${sql.lit(`${silentAfterS} s`)}::interval, false))`;

/** Of the row that a report has found, if any. */
export function heard(row: { readonly cancel_wanted: boolean } | undefined): Heard {
  if (!row) return "overtaken";
  return row.cancel_wanted ? "cancelled" : "goOn";
}
export const inSeconds = (seconds: number) => sql<Date>`now() + make_interval(secs => ${seconds})`;

/** Until the transaction ends, nobody else changes who is who. Taken before any row: whoever holds a row never waits for it. */
export const lockPeople = sql`select pg_advisory_xact_lock(hashtextextended('people', 0))`;
