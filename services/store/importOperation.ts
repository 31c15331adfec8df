import { type Kysely, sql } from "kysely";
import type { Operation } from "../../shared/model/operation.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { digestOf } from "./digest.ts";
import { toSummary } from "./rows.ts";
import type { ImportOutcome } from "./store.ts";
import type { Tables } from "./tables.ts";

/**
 * The name says which operation it is. A document equal to the latest version changes nothing; one equal to an
 * earlier version is a new version again, because it is a change back.
 */
export function importOperation(
  db: Kysely<Tables>,
  operation: Operation,
  freshId: string,
  acting: Acting,
): Promise<ImportOutcome> {
  const digest = digestOf(operation);
  const name = operation.settings.name;
  return db.transaction().execute(async (tx) => {
    await tx
      .insertInto("operations")
      .values({ id: freshId, name })
      .onConflict((conflict) => conflict.column("name").doNothing())
      .execute();
    // The row's lock makes imports of the same operation follow each other.
    const { id } = await tx
      .selectFrom("operations")
      .select("id")
      .where("name", "=", name)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const latest = await tx
      .selectFrom("operation_versions")
      .select(["version", "digest", "created_at"])
      .where("operation_id", "=", id)
      .where("derived", "=", false)
      .orderBy("version", "desc")
      .limit(1)
      .executeTakeFirst();
    if (latest?.digest === digest) {
      return { outcome: "sameDocument", operation: toSummary({ id, name, ...latest }) } as const;
    }
    const row = await tx
      .insertInto("operation_versions")
      .values({
        operation_id: id,
        // Derived versions are counted with the others.
        version: sql<number>`(select coalesce(max(version), 0) + 1 from operation_versions where operation_id = ${id})`,
        document: sql<string>`${JSON.stringify(operation)}::jsonb`,
        digest,
      })
      .returning(["version", "digest", "created_at"])
      .executeTakeFirstOrThrow();
    await audit(tx, acting, { operationId: id, thingId: id, details: { version: row.version } });
    return { outcome: "newVersion", operation: toSummary({ id, name, ...row }) } as const;
  });
}
