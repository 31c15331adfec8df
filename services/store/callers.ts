import { type Kysely, sql } from "kysely";
import type { CrewKey, Role } from "../../shared/contracts/access.ts";
import { now } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

/** Whoever a session's cookie or a token stands for. */
export interface KnownCaller {
  readonly kind: "person" | "token" | "crewLink";
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly crews: readonly CrewKey[];
  readonly readOnly: boolean;
}

/** Finds who calls, by the hash of what was shown: null where it holds no more. All times are the database's. */
export interface CallerStore {
  callerOfSession(hash: string): Promise<KnownCaller | null>;
  callerOfToken(hash: string): Promise<KnownCaller | null>;
}

/** Our choice: whoever has done nothing for a night is signed out, and everybody after a month. A crew's phone stays signed in until its link expires. */
export const idleHours = 12;
export const sessionDays = 30;

const idle = sql<Date>`now() - make_interval(hours => ${idleHours})`;
/** Kept to the minute, so that reading is not writing. */
const aMinuteAgo = sql<Date>`now() - interval '1 minute'`;

/** Crews that the person `p` leads, while it is a crew lead. */
export const crewsLed = sql<CrewKey[]>`coalesce((
  select json_agg(json_build_object('operationId', c.operation_id, 'crewId', c.crew_id) order by c.operation_id, c.crew_id)
  from person_crews c where c.person_id = p.id), '[]')`;

export function createCallers(db: Kysely<Tables>): CallerStore {
  return {
    async callerOfSession(hash) {
      const row = await db
        .selectFrom("sessions as s")
        .leftJoin("people as p", "p.id", "s.person_id")
        .leftJoin("crew_links as l", "l.id", "s.crew_link_id")
        .select(["p.id as person_id", "p.shown_name", "p.roles", "l.id as link_id", "l.operation_id", "l.crew_id"])
        .select(["l.note", crewsLed.as("crews"), sql<boolean>`s.last_seen_at < ${aMinuteAgo}`.as("unseen")])
        .where("s.hash", "=", hash)
        .where("s.expires_at", ">", now)
        .where((is) =>
          is.or([
            is.and([is("p.active", "=", true), is("s.last_seen_at", ">", idle)]),
            is.and([is("l.revoked_at", "is", null), is("l.expires_at", ">", now)]),
          ]),
        )
        .executeTakeFirst();
      if (!row) return null;
      if (row.unseen) {
        await db.updateTable("sessions").set({ last_seen_at: now }).where("hash", "=", hash).execute();
      }
      if (row.person_id !== null) {
        const { person_id, shown_name, roles, crews } = row;
        return known("person", person_id, shown_name!, roles!, crews, false);
      }
      const crew = { operationId: row.operation_id!, crewId: row.crew_id! };
      return known("crewLink", row.link_id!, `${crew.crewId}, ${row.note}`, [], [crew], false);
    },

    async callerOfToken(hash) {
      const row = await db
        .selectFrom("tokens as t")
        .innerJoin("people as p", "p.id", "t.person_id")
        .select(["t.id", "t.name", "t.roles", "t.read_only", "p.roles as persons_roles", "p.shown_name"])
        .select([crewsLed.as("crews"), sql<boolean>`coalesce(t.last_used_at < ${aMinuteAgo}, true)`.as("unseen")])
        .where("t.hash", "=", hash)
        .where("t.expires_at", ">", now)
        .where("t.revoked_at", "is", null)
        .where("p.active", "=", true)
        .executeTakeFirst();
      if (!row) return null;
      if (row.unseen) await db.updateTable("tokens").set({ last_used_at: now }).where("id", "=", row.id).execute();
      // What its person may no longer do, it may not either.
      const roles = row.roles.filter((role) => row.persons_roles.includes(role));
      return known("token", row.id, `${row.name} of ${row.shown_name}`, roles, row.crews, row.read_only);
    },
  };
}

function known(
  kind: KnownCaller["kind"],
  id: string,
  name: string,
  roles: readonly Role[],
  crews: readonly CrewKey[],
  readOnly: boolean,
): KnownCaller {
  const leads = kind === "crewLink" || roles.includes("crewLead");
  return { kind, id, name, roles, crews: leads ? crews : [], readOnly };
}
