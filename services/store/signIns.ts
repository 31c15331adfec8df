import { randomUUID } from "node:crypto";
import { type Kysely, sql } from "kysely";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { sessionDays } from "./callers.ts";
import { inSeconds, now } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface SignInFacts {
  readonly personId: string;
  readonly shownName: string;
  readonly password: string | null;
}

/** So many tries under a key within `attemptMinutes`. */
export interface AttemptKey {
  readonly key: string;
  readonly most: number;
}

export type AttemptOutcome =
  | { readonly status: "go"; readonly attemptId: string }
  | { readonly status: "wait"; readonly waitS: number };

/** Signing in and out. The hashes are of what cookies and links carry. */
export interface SignInStore {
  /** Counts a try before it is known how it ends, so that many at once are no more than the most. */
  beginAttempt(keys: readonly AttemptKey[]): Promise<AttemptOutcome>;
  /** The try does not count, and nothing that failed before under the key. */
  forgetAttempt(attemptId: string | null, key: string): Promise<void>;

  /** Of an active person. */
  signInFacts(name: string): Promise<SignInFacts | null>;
  /** False where the password is no longer the one that was compared. */
  signIn(facts: SignInFacts, sessionHash: string, acting: Acting): Promise<boolean>;
  signOut(sessionHash: string): Promise<void>;
  /** Sets a password, ends every session of the person and begins one. False where `known` is no longer the password. */
  changePassword(
    personId: string,
    known: string,
    password: string,
    sessionHash: string,
    acting: Acting,
  ): Promise<boolean>;

  /** Makes a link that makes the first person; null once there is one. */
  addFirstLink(hash: string, forS: number): Promise<Date | null>;
  /** What a link is for: the person whose password it sets, or the first person. Null where it holds no more. */
  linkPurpose(hash: string): Promise<{ readonly person: { readonly id: string; readonly name: string } | null } | null>;
  /** Uses a link up, sets the password and begins a session. False where the link holds no more. */
  setPassword(linkHash: string, password: string, sessionHash: string, acting: Acting): Promise<boolean>;
  /** Uses a first link up: the person has every role that the house needs to begin. False where there is somebody already. */
  addFirstPerson(
    linkHash: string,
    person: { readonly name: string; readonly shownName: string; readonly password: string },
    sessionHash: string,
    acting: Acting,
  ): Promise<boolean>;
}

export const attemptMinutes = 15;

export function createSignIns(db: Kysely<Tables>): SignInStore {
  return {
    beginAttempt: (keys) => beginAttempt(db, keys),

    async forgetAttempt(attemptId, key) {
      await db
        .deleteFrom("sign_in_attempts")
        .where((is) => is.or([is("key", "=", key), ...(attemptId === null ? [] : [is("attempt_id", "=", attemptId)])]))
        .execute();
    },

    async signInFacts(name) {
      const row = await db
        .selectFrom("people")
        .select(["id", "shown_name", "password"])
        .where(sql`lower(name)`, "=", sql`lower(${name})`)
        .where("active", "=", true)
        .executeTakeFirst();
      return row ? { personId: row.id, shownName: row.shown_name, password: row.password } : null;
    },

    signIn: (facts, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        if (!(await hasPassword(tx, facts.personId, facts.password))) return false;
        await beginSession(tx, facts.personId, sessionHash);
        await audit(tx, by(acting, facts.personId, facts.shownName), { thingId: facts.personId });
        return true;
      }),

    async signOut(sessionHash) {
      await db.deleteFrom("sessions").where("hash", "=", sessionHash).execute();
    },

    changePassword: (personId, knownPassword, password, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        if (!(await hasPassword(tx, personId, knownPassword))) return false;
        await renewPassword(tx, personId, password, sessionHash);
        await audit(tx, acting, { thingId: personId });
        return true;
      }),

    addFirstLink: (hash, forS) =>
      db.transaction().execute(async (tx) => {
        if (await tx.selectFrom("people").select("id").limit(1).executeTakeFirst()) return null;
        const row = await tx
          .insertInto("one_time_links")
          .values({ hash, person_id: null, expires_at: inSeconds(forS) })
          .returning("expires_at")
          .executeTakeFirstOrThrow();
        return row.expires_at;
      }),

    async linkPurpose(hash) {
      const row = await db
        .selectFrom("one_time_links as l")
        .leftJoin("people as p", "p.id", "l.person_id")
        .select(["l.person_id", "p.name"])
        .where("l.hash", "=", hash)
        .where("l.expires_at", ">", now)
        .executeTakeFirst();
      if (!row) return null;
      return { person: row.person_id === null ? null : { id: row.person_id, name: row.name! } };
    },

    setPassword: (linkHash, password, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        const link = await useLink(tx, linkHash);
        if (!link || link.person_id === null) return false;
        const person = await tx
          .selectFrom("people")
          .select(["id", "shown_name"])
          .where("id", "=", link.person_id)
          .where("active", "=", true)
          .forUpdate()
          .executeTakeFirst();
        if (!person) return false;
        await renewPassword(tx, person.id, password, sessionHash);
        await audit(tx, by(acting, person.id, person.shown_name), { thingId: person.id });
        return true;
      }),

    addFirstPerson: (linkHash, { name, shownName, password }, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        const link = await useLink(tx, linkHash);
        if (!link || link.person_id !== null) return false;
        await sql`lock table people in share row exclusive mode`.execute(tx);
        if (await tx.selectFrom("people").select("id").limit(1).executeTakeFirst()) return false;
        const id = randomUUID();
        const roles = ["administrator", "dispatcher", "owner"] as const;
        await tx
          .insertInto("people")
          .values({ id, name, shown_name: shownName, password, roles: [...roles] })
          .execute();
        await tx.deleteFrom("one_time_links").where("person_id", "is", null).execute();
        await beginSession(tx, id, sessionHash);
        await audit(tx, by(acting, id, shownName), { thingId: id, details: { name, roles } });
        return true;
      }),
  };
}

function beginAttempt(db: Kysely<Tables>, keys: readonly AttemptKey[]): Promise<AttemptOutcome> {
  const since = sql<Date>`(now() - make_interval(mins => ${attemptMinutes}))`;
  return db.transaction().execute(async (tx) => {
    await tx.deleteFrom("sign_in_attempts").where("at", "<", since).execute();
    let waitS = 0;
    // In the same order everywhere, so that no two wait for each other.
    for (const { key, most } of [...keys].sort((a, b) => (a.key < b.key ? -1 : 1))) {
      await sql`select pg_advisory_xact_lock(hashtextextended(${key}, 0))`.execute(tx);
      const last = tx.selectFrom("sign_in_attempts").select("at").where("key", "=", key).orderBy("at", "desc");
      // The try that has to be forgotten before another one is allowed.
      const row = await tx
        .selectFrom(
          last
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

/** Of an active person, whose row is locked until the transaction ends. */
async function hasPassword(tx: Kysely<Tables>, personId: string, password: string | null): Promise<boolean> {
  const row = await tx
    .selectFrom("people")
    .select("password")
    .where("id", "=", personId)
    .where("active", "=", true)
    .forUpdate()
    .executeTakeFirst();
  return row !== undefined && row.password !== null && row.password === password;
}

async function renewPassword(tx: Kysely<Tables>, personId: string, password: string, sessionHash: string) {
  await tx.updateTable("people").set({ password }).where("id", "=", personId).execute();
  await tx.deleteFrom("sessions").where("person_id", "=", personId).execute();
  await tx.deleteFrom("one_time_links").where("person_id", "=", personId).execute();
  await beginSession(tx, personId, sessionHash);
}

async function beginSession(tx: Kysely<Tables>, personId: string, hash: string): Promise<void> {
  await tx.deleteFrom("sessions").where("expires_at", "<", now).execute();
  const expires_at = inSeconds(sessionDays * 24 * 3600);
  await tx.insertInto("sessions").values({ hash, person_id: personId, expires_at }).execute();
}

function useLink(tx: Kysely<Tables>, hash: string) {
  return tx
    .deleteFrom("one_time_links")
    .where("hash", "=", hash)
    .where("expires_at", ">", now)
    .returning("person_id")
    .executeTakeFirst();
}

/** Whoever signs in has only now become known. */
const by = (acting: Acting, id: string, name: string): Acting => ({ ...acting, by: { kind: "person", id, name } });
