import { type Kysely, type Selectable, sql } from "kysely";
import { type Publication, publicationSchema, type StoredPlan } from "../../shared/contracts/plans.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { changeChannel } from "./changeFeed.ts";
import { once } from "./once.ts";
import { latestVersion } from "./operationVersions.ts";
import { storedPlan } from "./planRows.ts";
import { shareAsks } from "./shareAsks.ts";
import type { Tables } from "./tables.ts";

export type PublishOutcome =
  | { readonly outcome: "published"; readonly publication: Publication }
  /** Somebody else has published in between; `latest` is what crews have been told now. */
  | { readonly outcome: "changedMeanwhile"; readonly latest: Publication | null }
  /** The operation has a later version than the one that the plan was checked under. */
  | { readonly outcome: "operationChanged" }
  | { readonly outcome: "otherCall" }
  | { readonly outcome: "unknown" };

export interface PublicationStore {
  /**
   * Tells crews a plan; `after` is the number of the publication that the publisher knows, 0: none. Publishing again what is published changes nothing. `checkedUnder`: the
   * latest version of the operation, under which the plan was checked; left out where nobody asks.
   */
  publish(planId: string, after: number, note: string, acting: Acting, checkedUnder?: number): Promise<PublishOutcome>;
  /** Newest first; `before`: with lower numbers only. */
  publicationsOf(operationId: string, limit?: number, before?: number): Promise<Publication[]>;
  latestPublication(operationId: string): Promise<Publication | null>;
  /** What crews have been told last. */
  publishedPlan(operationId: string): Promise<StoredPlan | null>;
}

/** Undoes the transaction, and with it the key of the call: sent again it is a new call. */
class NotPublished extends Error {
  readonly outcome: PublishOutcome;
  constructor(outcome: PublishOutcome) {
    super(outcome.outcome);
    this.outcome = outcome;
  }
}

export function createPublications(db: Kysely<Tables>): PublicationStore {
  const publications = (tx: Kysely<Tables>, operationId: string) =>
    tx.selectFrom("publications").selectAll().where("operation_id", "=", operationId).orderBy("number", "desc");
  const latestOf = async (tx: Kysely<Tables>, operationId: string) => {
    const row = await publications(tx, operationId).limit(1).executeTakeFirst();
    return row ? told(row) : null;
  };

  return {
    async publish(planId, after, note, acting, checkedUnder) {
      const publishing = db.transaction().execute(async (tx): Promise<PublishOutcome> => {
        // The plan's lock keeps it from being discarded, the operation's makes publications follow each other.
        const plan = await tx
          .selectFrom("plans")
          .select("operation_id")
          .where("id", "=", planId)
          .forShare()
          .executeTakeFirst();
        if (!plan) return { outcome: "unknown" };
        const operationId = plan.operation_id;
        await tx.selectFrom("operations").select("id").where("id", "=", operationId).forUpdate().execute();
        const made = await once(tx, acting, async (id) => {
          const latest = await latestOf(tx, operationId);
          if (latest?.planId === planId) throw new NotPublished({ outcome: "published", publication: latest });
          if ((latest?.number ?? 0) !== after) throw new NotPublished({ outcome: "changedMeanwhile", latest });
          const version = (await latestVersion(tx, operationId).executeTakeFirst())?.version;
          if (checkedUnder !== undefined && version !== checkedUnder) {
            throw new NotPublished({ outcome: "operationChanged" });
          }
          const number = after + 1;
          await tx
            .insertInto("publications")
            .values({ id, operation_id: operationId, number, plan_id: planId, note, by_name: acting.by.name })
            .execute();
          await audit(tx, acting, { operationId, thingId: planId, details: { number, note } });
          await sql`select pg_notify(${changeChannel}, ${operationId})`.execute(tx);
        });
        if (made.outcome === "otherCall") return made;
        const row = await publications(tx, operationId).where("id", "=", made.id).executeTakeFirstOrThrow();
        return { outcome: "published", publication: told(row) };
      });
      return publishing.catch((error: unknown) => {
        if (error instanceof NotPublished) return error.outcome;
        throw error;
      });
    },

    async publicationsOf(operationId, limit, before) {
      let query = publications(db, operationId);
      if (limit !== undefined) query = query.limit(limit);
      if (before !== undefined) query = query.where("number", "<", before);
      return (await query.execute()).map(told);
    },

    // All phones of an operation ask for it.
    latestPublication: shareAsks((operationId) => latestOf(db, operationId)),

    async publishedPlan(operationId) {
      const latest = await latestOf(db, operationId);
      return latest ? storedPlan(db, latest.planId) : null;
    },
  };
}

function told(row: Selectable<Tables["publications"]>): Publication {
  const { id, operation_id, number, plan_id, note, by_name, created_at } = row;
  return publicationSchema.parse({
    id,
    operationId: operation_id,
    number,
    planId: plan_id,
    note,
    byName: by_name,
    createdAt: created_at.toISOString(),
  });
}
