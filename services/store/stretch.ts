import { type RawBuilder, sql } from "kysely";

/** So many entries of a list at most, from the one on that follows `after`, by which the entry before it is known. */
export interface Stretch {
  readonly most: number;
  readonly after: string | null;
}

/** Our choice: more than any list has that is asked for whole. */
export const everything: Stretch = { most: 1_000_000, after: null };

/** Of a list by time and id, newest first: what follows the row of this id; of one that is not there nothing. */
export const olderThan = (table: "plan_requests" | "studies", alias: string, id: string): RawBuilder<boolean> =>
  sql<boolean>`(${sql.ref(`${alias}.created_at`)}, ${sql.ref(`${alias}.id`)}) < (select created_at, id from ${sql.table(table)} where id = ${id})`;
