import { randomUUID } from "node:crypto";
import { type Kysely, sql } from "kysely";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { sessionDays } from "./callers.ts";
import { inSeconds, lockPeople, now } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface SignInFacts {
  readonly personId: string;
  readonly shownName: string;
  readonly password: string | null;
}

/** Signing in and out. The hashes are of what cookies and links carry. */
export interface SignInStore {
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

export function createSignIns(db: Kysely<Tables>): SignInStore {
  return {
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
        // The person's row comes before all that is theirs, here as everywhere, so that no two wait for each other.
        const person = await tx
          .selectFrom("people as p")
          .innerJoin("one_time_links as l", "l.person_id", "p.id")
          .select(["p.id", "p.shown_name"])
          .where("l.hash", "=", linkHash)
          .where("p.active", "=", true)
          .forUpdate("p")
          .executeTakeFirst();
        if (!person || !(await useLink(tx, linkHash))) return false;
        await renewPassword(tx, person.id, password, sessionHash);
        await audit(tx, by(acting, person.id, person.shown_name), { thingId: person.id });
        return true;
      }),

    addFirstPerson: (linkHash, { name, shownName, password }, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        await lockPeople.execute(tx);
        const link = await useLink(tx, linkHash);
        if (!link || link.person_id !== null) return false;
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
  // What somebody else is at is left for the next time, so that clearing up never waits.
  const ended = tx.selectFrom("sessions").select("hash").where("expires_at", "<", now).forUpdate().skipLocked();
  await tx.deleteFrom("sessions").where("hash", "in", ended).execute();
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
