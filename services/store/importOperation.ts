import type { Kysely } from "kysely";
import type { Operation } from "../../shared/model/operation.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { addVersion, type VersionOutcome } from "./newVersion.ts";
import { latestVersion } from "./operationVersions.ts";
import type { Tables } from "./tables.ts";

/**
 * The name says which operation it is. A document equal to the latest version changes nothing; one equal to an
 * earlier version is a new version again, because it is a change back.
 */
export function importOperation(
  db: Kysely<Tables>,
  document: Operation,
  freshId: string,
  acting: Acting,
): Promise<VersionOutcome> {
  const name = document.settings.name;
  return db.transaction().execute(async (tx) => {
    await tx
      .insertInto("operations")
      .values({ id: freshId, name })
      .onConflict((conflict) => conflict.column("name").doNothing())
      .execute();
    // The row's lock makes imports of the same operation follow each other.
    const operation = await tx
      .selectFrom("operations")
      .select(["id", "name"])
      .where("name", "=", name)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const latest = await latestVersion(tx, operation.id).executeTakeFirst();
    const made = await addVersion(tx, { operation, document, derived: false }, latest);
    if (made.outcome === "newVersion") {
      const { id, version } = made.operation;
      await audit(tx, acting, { operationId: id, thingId: id, details: { version } });
    }
    return made;
  });
}
