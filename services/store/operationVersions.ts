import { type Kysely, sql } from "kysely";
import type { Operation } from "../../shared/model/operation.ts";
import { toVersion } from "./rows.ts";
import type { Tables } from "./tables.ts";

/** Versions of operations with their names, without their documents. */
export function operationVersions(db: Kysely<Tables>) {
  return db
    .selectFrom("operation_versions as v")
    .innerJoin("operations as o", "o.id", "v.operation_id")
    .select(["o.id", "o.name", "v.version", "v.digest", "v.created_at"]);
}

/** Of the version `v`, put together of its parts, in no particular order: the schema puts them in theirs. */
export const document = sql<unknown>`(
  select json_object_agg(h.part, p.body) from operation_version_parts h join operation_parts p on p.digest = h.digest
  where h.operation_id = v.operation_id and h.version = v.version)`.as("document");

/** The latest that people have told. */
export function latestVersion(db: Kysely<Tables>, operationId: string) {
  return operationVersions(db)
    .where("o.id", "=", operationId)
    .where("v.derived", "=", false)
    .orderBy("v.version", "desc")
    .limit(1);
}

/** The operation that a stored row speaks of; what a row names is there. */
export async function operationNamed(
  db: Kysely<Tables>,
  { operation_id, version }: { readonly operation_id: string; readonly version: number },
): Promise<Operation> {
  const row = await operationVersions(db)
    .select(document)
    .where("v.operation_id", "=", operation_id)
    .where("v.version", "=", version)
    .executeTakeFirstOrThrow();
  return toVersion(row).document;
}
