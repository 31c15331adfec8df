import type { Kysely } from "kysely";
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

/** The operation that a stored row speaks of; what a row names is there. */
export async function operationNamed(
  db: Kysely<Tables>,
  { operation_id, version }: { readonly operation_id: string; readonly version: number },
): Promise<Operation> {
  const row = await operationVersions(db)
    .select("v.document")
    .where("v.operation_id", "=", operation_id)
    .where("v.version", "=", version)
    .executeTakeFirstOrThrow();
  return toVersion(row).document;
}
