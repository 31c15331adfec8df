import { randomUUID } from "node:crypto";
import { type Expression, type ExpressionBuilder, type Kysely, type SqlBool, sql } from "kysely";
import type { Tables } from "./tables.ts";

/** So many tries under a key within `attemptMinutes`. */
export interface AttemptKey {
  readonly key: string;
  readonly most: number;
}

export type AttemptOutcome =
  | { readonly status: "go"; readonly attemptId: string }
  | { readonly status: "wait"; readonly waitS: number };

export interface AttemptStore {
  /** Counts a try before it is known how it ends, so that many at once are no more than the most. */
  beginAttempt(keys: readonly AttemptKey[]): Promise<AttemptOutcome>;
  /** The try does not count, and nothing that failed before under the key. */
  forgetAttempt(attemptId: string | null, key: string): Promise<void>;
}

export const attemptMinutes = 15;
const since = sql<Date>`(now() - make_interval(mins => ${attemptMinutes}))`;

export function createAttempts(db: Kysely<Tables>): AttemptStore {
  return {
    beginAttempt: (keys) => beginAttempt(db, keys),
    forgetAttempt: (attemptId, key) =>
      clear(db, (is) =>
        is.or([is("key", "=", key), ...(attemptId === null ? [] : [is("attempt_id", "=", attemptId)])]),
      ),
  };
}

function beginAttempt(db: Kysely<Tables>, keys: readonly AttemptKey[]): Promise<AttemptOutcome> {
  return db.transaction().execute(async (tx) => {
    await clear(tx, (is) => is("at", "<", since));
    let waitS = 0;
    // In the same order everywhere, so that no two wait for each other.
    for (const { key, most } of [...keys].sort((a, b) => (a.key < b.key ? -1 : 1))) {
      await sql`select pg_advisory_xact_lock(hashtextextended(${key}, 0))`.execute(tx);
      const last = tx.selectFrom("sign_in_attempts").select("at").where("key", "=", key).orderBy("at", "desc");
      // The try that has to be forgotten before another one is allowed.
      const row = await tx
        .selectFrom(
          last
            .where("at", ">=", since)
            .offset(most - 1)
            .limit(1)
            .as("nth"),
        )
        .select(sql<number>`extract(epoch from nth.at - ${since})::float8`.as("waitS"))
        .executeTakeFirst();
      if (row) waitS = Math.max(waitS, Math.ceil(row.waitS), 1);
    }
    if (waitS > 0) return { status: "wait", waitS };
    const attemptId = randomUUID();
    await tx
      .insertInto("sign_in_attempts")
      .values(keys.map(({ key }) => ({ key, attempt_id: attemptId })))
      .execute();
    return { status: "go", attemptId };
  });
}

/** What somebody else is at is left for the next time, so that clearing up never waits. */
async function clear(
  db: Kysely<Tables>,
  which: (is: ExpressionBuilder<Tables, "sign_in_attempts">) => Expression<SqlBool>,
): Promise<void> {
  const rows = db.selectFrom("sign_in_attempts").select(["key", "attempt_id"]).where(which).forUpdate().skipLocked();
  await db
    .deleteFrom("sign_in_attempts")
    .where((is) => is(is.refTuple("key", "attempt_id"), "in", rows.$asTuple("key", "attempt_id")))
    .execute();
}
