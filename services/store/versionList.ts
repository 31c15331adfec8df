import { type Kysely, sql } from "kysely";
import { type OperationVersionEntry, operationVersionEntrySchema } from "../../shared/contracts/operations.ts";
import type { Stretch } from "./stretch.ts";
import type { Tables } from "./tables.ts";

/** Versions that people have told, newest first, each with what it has other than the one before. */
export async function versionsOf(
  db: Kysely<Tables>,
  operationId: string,
  { most, after }: Stretch,
): Promise<OperationVersionEntry[]> {
  const rows = await db
    .selectFrom("operation_versions as v")
    .leftJoin("audit as a", (join) =>
      join
        .onRef("a.operation_id", "=", "v.operation_id")
        // Written in one transaction, so at one time.
        .onRef("a.created_at", "=", "v.created_at")
        .on(sql<boolean>`a.thing_id = v.operation_id::text and a.details ->> 'version' = v.version::text`),
    )
    .where("v.operation_id", "=", operationId)
    .where("v.derived", "=", false)
    .$if(after !== null, (query) => query.where("v.version", "<", Number(after)))
    .select(["v.version", "v.digest", "v.created_at", "a.by_kind", "a.by_name", "a.action", "a.details"])
    .select(
      sql<Record<string, string>>`(select json_object_agg(h.part, h.digest) from operation_version_parts h
        where h.operation_id = v.operation_id and h.version = v.version)`.as("digests"),
    )
    .orderBy("v.version", "desc")
    // One more, to tell what the last has changed.
    .limit(most + 1)
    .execute();
  return rows.slice(0, most).map((row, at) => {
    const before = rows[at + 1]?.digests ?? {};
    const names = [...new Set([...Object.keys(row.digests), ...Object.keys(before)])].sort();
    const { resource = null, key = null } = (row.details ?? {}) as { resource?: string; key?: string };
    return operationVersionEntrySchema.parse({
      version: row.version,
      digest: row.digest,
      createdAt: row.created_at.toISOString(),
      by: row.by_kind === null ? null : { kind: row.by_kind, name: row.by_name },
      action: row.action,
      resource,
      key,
      changed: names.filter((name) => row.digests[name] !== before[name]),
    });
  });
}
