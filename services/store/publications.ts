import { randomUUID } from "node:crypto";
import { type Kysely, type Selectable, sql } from "kysely";
import { type Publication, publicationSchema, type StoredPlan } from "../../shared/contracts/plans.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { changeChannel } from "./changeFeed.ts";
import { storedPlan } from "./planRows.ts";
import type { Tables } from "./tables.ts";

export type PublishOutcome =
  | { readonly outcome: "published"; readonly publication: Publication }
  /** Somebody else has published in between; `latest` is what crews have been told now. */
  | { readonly outcome: "changedMeanwhile"; readonly latest: Publication | null }
  | { readonly outcome: "unknown" };

export interface PublicationStore {
  /** Tells crews a plan; `after` is the number of the publication that the publisher knows, 0: none. Publishing again what is published changes nothing. */
  publish(planId: string, after: number, note: string, acting: Acting): Promise<PublishOutcome>;
  /** Newest first. */
  publicationsOf(operationId: string): Promise<Publication[]>;
  /** What crews have been told last. */
  publishedPlan(operationId: string): Promise<StoredPlan | null>;
}

export function createPublications(db: Kysely<Tables>): PublicationStore {
  const publications = (tx: Kysely<Tables>, operationId: string) =>
    tx.selectFrom("publications").selectAll().where("operation_id", "=", operationId).orderBy("number", "desc");
  return {
    publish: (planId, after, note, acting) =>
      db.transaction().execute(async (tx) => {
        const plan = await tx.selectFrom("plans").select("operation_id").where("id", "=", planId).executeTakeFirst();
        if (!plan) return { outcome: "unknown" };
        const operationId = plan.operation_id;
        // The row's lock makes publications of one operation follow each other.
        await tx.selectFrom("operations").select("id").where("id", "=", operationId).forUpdate().execute();
        const latest = await publications(tx, operationId).limit(1).executeTakeFirst();
        if (latest?.plan_id === planId) return { outcome: "published", publication: told(latest) };
        if ((latest?.number ?? 0) !== after) {
          return { outcome: "changedMeanwhile", latest: latest ? told(latest) : null };
        }
        const row = await tx
          .insertInto("publications")
          .values({
            id: randomUUID(),
            operation_id: operationId,
            number: after + 1,
            plan_id: planId,
            note,
            by_name: acting.by.name,
          })
          .returningAll()
          .executeTakeFirstOrThrow();
        await audit(tx, acting, { operationId, thingId: planId, details: { number: row.number, note } });
        await sql`select pg_notify(${changeChannel}, ${operationId})`.execute(tx);
        return { outcome: "published", publication: told(row) };
      }),

    async publicationsOf(operationId) {
      return (await publications(db, operationId).execute()).map(told);
    },

    async publishedPlan(operationId) {
      const latest = await publications(db, operationId).limit(1).executeTakeFirst();
      return latest ? storedPlan(db, latest.plan_id) : null;
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
