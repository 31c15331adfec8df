import { sql } from "kysely";

export const unfinished = ["queued", "running"] as const;
export const now = sql<Date>`now()`;
export const json = <T>(value: unknown) => sql<T>`${JSON.stringify(value)}::jsonb`;
/** For columns of json: the text stays as it is. */
export const asWritten = (value: unknown) => sql<string>`${JSON.stringify(value)}::json`;
export const inSeconds = (seconds: number) => sql<Date>`now() + make_interval(secs => ${seconds})`;
