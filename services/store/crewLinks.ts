import { type Kysely, type Selectable, sql } from "kysely";
import type { CrewKey } from "../../shared/contracts/access.ts";
import { type CrewLink, crewLinkSchema } from "../../shared/contracts/crewLinks.ts";
import type { Acting, Made } from "./acting.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import { inSeconds, now } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface CrewLinkStore {
  addCrewLink(crew: CrewKey, note: string, forS: number, acting: Acting): Promise<Made<CrewLink>>;
  /** Newest first. */
  crewLinksOf(operationId: string): Promise<CrewLink[]>;
  /** Ends what was opened by it, too. Revoking twice changes nothing. */
  revokeCrewLink(linkId: string, acting: Acting): Promise<CrewLink | null>;
  /** Begins a session that lasts as long as the link. False where it holds no more. */
  openCrewLink(linkId: string, sessionHash: string, acting: Acting): Promise<boolean>;
  /** The crew that a link is for, as long as it holds; null where it holds no more. */
  crewOfLink(linkId: string): Promise<CrewKey | null>;
  /** The database's clock, by which everything expires. */
  timeNow(): Promise<Date>;
}

export function createCrewLinks(db: Kysely<Tables>): CrewLinkStore {
  return {
    addCrewLink: ({ operationId, crewId }, note, forS, acting) =>
      db.transaction().execute(async (tx) => {
        const made = await once(tx, acting, async (id) => {
          // Whole seconds, because that is what its signed text tells.
          const expires_at = sql<Date>`date_trunc('second', ${inSeconds(forS)})`;
          await tx
            .insertInto("crew_links")
            .values({ id, operation_id: operationId, crew_id: crewId, note, by_name: acting.by.name, expires_at })
            .execute();
          await audit(tx, acting, { operationId, thingId: id, details: { crewId, note } });
        });
        if (made.outcome === "otherCall") return made;
        const row = await tx.selectFrom("crew_links").selectAll().where("id", "=", made.id).executeTakeFirstOrThrow();
        return { outcome: made.outcome, thing: told(row) };
      }),

    async crewLinksOf(operationId) {
      const rows = await db
        .selectFrom("crew_links")
        .selectAll()
        .where("operation_id", "=", operationId)
        .orderBy("created_at", "desc")
        .orderBy("id")
        .execute();
      return rows.map(told);
    },

    revokeCrewLink: (linkId, acting) =>
      db.transaction().execute(async (tx) => {
        const row = await tx
          .selectFrom("crew_links")
          .selectAll()
          .where("id", "=", linkId)
          .forUpdate()
          .executeTakeFirst();
        if (!row) return null;
        if (row.revoked_at !== null) return told(row);
        await tx.deleteFrom("sessions").where("crew_link_id", "=", linkId).execute();
        const details = { crewId: row.crew_id, note: row.note };
        await audit(tx, acting, { operationId: row.operation_id, thingId: linkId, details });
        const revoked = await tx
          .updateTable("crew_links")
          .set({ revoked_at: now })
          .where("id", "=", linkId)
          .returningAll()
          .executeTakeFirstOrThrow();
        return told(revoked);
      }),

    openCrewLink: (linkId, sessionHash, acting) =>
      db.transaction().execute(async (tx) => {
        const link = await tx
          .selectFrom("crew_links")
          .selectAll()
          .where("id", "=", linkId)
          .where("revoked_at", "is", null)
          .where("expires_at", ">", now)
          .forUpdate()
          .executeTakeFirst();
        if (!link) return false;
        await tx
          .insertInto("sessions")
          .values({ hash: sessionHash, crew_link_id: linkId, expires_at: link.expires_at })
          .execute();
        const by = { kind: "crewLink", id: linkId, name: `${link.crew_id}, ${link.note}` } as const;
        await audit(tx, { ...acting, by }, { operationId: link.operation_id, thingId: linkId });
        return true;
      }),

    async crewOfLink(linkId) {
      const row = await db
        .selectFrom("crew_links")
        .select(["operation_id", "crew_id"])
        .where("id", "=", linkId)
        .where("revoked_at", "is", null)
        .where("expires_at", ">", now)
        .executeTakeFirst();
      return row ? { operationId: row.operation_id, crewId: row.crew_id } : null;
    },

    async timeNow() {
      const { rows } = await sql<{ now: Date }>`select now()`.execute(db);
      return rows[0]!.now;
    },
  };
}

function told(row: Selectable<Tables["crew_links"]>): CrewLink {
  return crewLinkSchema.parse({
    id: row.id,
    operationId: row.operation_id,
    crewId: row.crew_id,
    note: row.note,
    byName: row.by_name,
    createdAt: row.created_at.toISOString(),
    expiresAt: row.expires_at.toISOString(),
    revokedAt: row.revoked_at?.toISOString() ?? null,
  });
}
