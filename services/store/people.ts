import type { Kysely, Selectable } from "kysely";
import type { CrewKey } from "../../shared/contracts/access.ts";
import { type NewPerson, type Person, type PersonChange, personSchema } from "../../shared/contracts/people.ts";
import type { Acting, Made } from "./acting.ts";
import { audit } from "./audit.ts";
import { crewsLed } from "./callers.ts";
import { once } from "./once.ts";
import { inSeconds, lockPeople } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface VersionedPerson {
  readonly person: Person;
  readonly version: number;
}

/** For a link that sets a password: its text is known to whoever makes it, the store has its hash. */
export interface LinkHash {
  readonly hash: string;
  readonly forS: number;
}

export type AddPersonOutcome = Made<VersionedPerson> | { readonly outcome: "nameTaken" };

export type ChangePersonOutcome =
  | { readonly outcome: "changed"; readonly changed: VersionedPerson }
  | { readonly outcome: "unknown" | "changedMeanwhile" | "lastAdministrator" };

export interface PersonStore {
  /** By name. */
  people(): Promise<Person[]>;
  person(personId: string): Promise<VersionedPerson | null>;
  addPerson(person: NewPerson, link: LinkHash, acting: Acting): Promise<AddPersonOutcome>;
  /** Whoever is no longer active is signed out everywhere. */
  changePerson(
    personId: string,
    versions: readonly number[],
    change: PersonChange,
    acting: Acting,
  ): Promise<ChangePersonOutcome>;
  endSessionsOf(personId: string, acting: Acting): Promise<boolean>;
  /** Takes the place of earlier ones. Null where there is no such person, or it is not active. */
  addPasswordLink(personId: string, link: LinkHash, acting: Acting): Promise<Date | null>;
}

export function createPeople(db: Kysely<Tables>): PersonStore {
  return {
    async people() {
      const rows = await readPeople(db).orderBy("p.name").execute();
      return rows.map((row) => told(row).person);
    },

    async person(personId) {
      const row = await readPeople(db).where("p.id", "=", personId).executeTakeFirst();
      return row ? told(row) : null;
    },

    addPerson: (person, link, acting) => addPerson(db, person, link, acting),
    changePerson: (personId, versions, change, acting) => changePerson(db, personId, versions, change, acting),

    endSessionsOf: (personId, acting) =>
      db.transaction().execute(async (tx) => {
        if (!(await tx.selectFrom("people").select("id").where("id", "=", personId).forUpdate().executeTakeFirst())) {
          return false;
        }
        const { numDeletedRows } = await tx
          .deleteFrom("sessions")
          .where("person_id", "=", personId)
          .executeTakeFirstOrThrow();
        await audit(tx, acting, { thingId: personId, details: { sessions: Number(numDeletedRows) } });
        return true;
      }),

    addPasswordLink: (personId, link, acting) =>
      db.transaction().execute(async (tx) => {
        const person = await tx
          .selectFrom("people")
          .select("name")
          .where("id", "=", personId)
          .where("active", "=", true)
          .forUpdate()
          .executeTakeFirst();
        if (!person) return null;
        await tx.deleteFrom("one_time_links").where("person_id", "=", personId).execute();
        await audit(tx, acting, { thingId: personId, details: { name: person.name } });
        return linkFor(tx, personId, link);
      }),
  };
}

function readPeople(db: Kysely<Tables>) {
  return db.selectFrom("people as p").selectAll("p").select(crewsLed.as("crews"));
}

async function addPerson(db: Kysely<Tables>, person: NewPerson, link: LinkHash, acting: Acting) {
  const { name, shownName, roles, crews } = person;
  try {
    return await db.transaction().execute(async (tx): Promise<AddPersonOutcome> => {
      const made = await once(tx, acting, async (id) => {
        await tx.insertInto("people").values({ id, name, shown_name: shownName, password: null, roles }).execute();
        await setCrews(tx, id, crews);
        await linkFor(tx, id, link);
        await audit(tx, acting, { thingId: id, details: { name, roles, crews } });
      });
      if (made.outcome === "otherCall") return made;
      const row = await readPeople(tx).where("p.id", "=", made.id).executeTakeFirstOrThrow();
      return { outcome: made.outcome, thing: told(row) };
    });
  } catch (error) {
    if ((error as { constraint?: string }).constraint !== "people_name") throw error;
    return { outcome: "nameTaken" } as const;
  }
}

function changePerson(
  db: Kysely<Tables>,
  personId: string,
  versions: readonly number[],
  { shownName, roles, crews, active }: PersonChange,
  acting: Acting,
): Promise<ChangePersonOutcome> {
  return db.transaction().execute(async (tx) => {
    // So two administrators cannot take the role from each other at the same moment.
    await lockPeople.execute(tx);
    const before = await readPeople(tx).where("p.id", "=", personId).executeTakeFirst();
    if (!before) return { outcome: "unknown" };
    if (!versions.includes(before.version)) return { outcome: "changedMeanwhile" };
    const staysAdministrator = active && roles.includes("administrator");
    if (!staysAdministrator && !(await isOtherAdministrator(tx, personId)) && isAdministrator(before)) {
      return { outcome: "lastAdministrator" };
    }
    await tx
      .updateTable("people")
      .set({ shown_name: shownName, roles, active, version: before.version + 1 })
      .where("id", "=", personId)
      .execute();
    await tx.deleteFrom("person_crews").where("person_id", "=", personId).execute();
    await setCrews(tx, personId, crews);
    if (!active) {
      await tx.deleteFrom("sessions").where("person_id", "=", personId).execute();
      await tx.deleteFrom("one_time_links").where("person_id", "=", personId).execute();
    }
    const after = told(await readPeople(tx).where("p.id", "=", personId).executeTakeFirstOrThrow());
    const facts = ({ name, shownName, roles, crews, active }: Person) => ({ name, shownName, roles, crews, active });
    const details = { before: facts(told(before).person), after: facts(after.person) };
    await audit(tx, acting, { thingId: personId, details });
    return { outcome: "changed", changed: after };
  });
}

type PersonRow = Selectable<Tables["people"]> & { crews: CrewKey[] };

/** Who has not set a password yet cannot help. */
const isAdministrator = ({ active, roles, password }: PersonRow) =>
  active && roles.includes("administrator") && password !== null;

async function isOtherAdministrator(tx: Kysely<Tables>, personId: string): Promise<boolean> {
  const others = await readPeople(tx).where("p.id", "!=", personId).execute();
  return others.some(isAdministrator);
}

async function setCrews(tx: Kysely<Tables>, personId: string, crews: readonly CrewKey[]): Promise<void> {
  if (crews.length === 0) return;
  const rows = crews.map(({ operationId, crewId }) => ({
    person_id: personId,
    operation_id: operationId,
    crew_id: crewId,
  }));
  await tx
    .insertInto("person_crews")
    .values(rows)
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

async function linkFor(tx: Kysely<Tables>, personId: string, { hash, forS }: LinkHash): Promise<Date> {
  const row = await tx
    .insertInto("one_time_links")
    .values({ hash, person_id: personId, expires_at: inSeconds(forS) })
    .returning("expires_at")
    .executeTakeFirstOrThrow();
  return row.expires_at;
}

function told({ id, name, shown_name, roles, crews, active, password, created_at, version }: PersonRow) {
  const person = personSchema.parse({
    id,
    name,
    shownName: shown_name,
    roles,
    crews,
    active,
    hasPassword: password !== null,
    createdAt: created_at.toISOString(),
  });
  return { person, version };
}
