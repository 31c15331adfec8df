import { type Kysely, sql } from "kysely";
import { digestOf } from "../digest.ts";

/** Versions share the parts that they have in common: each member of a document is stored once, under the digest of what it holds. */
export async function partsOfOperations(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("operation_parts")
    .addColumn("digest", "text", (column) => column.primaryKey())
    .addColumn("body", "jsonb", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("operation_version_parts")
    .addColumn("operation_id", "uuid", (column) => column.notNull())
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("part", "text", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull().references("operation_parts.digest"))
    .addPrimaryKeyConstraint("operation_version_parts_key", ["operation_id", "version", "part"])
    .addForeignKeyConstraint("operation_version_parts_version", ["operation_id", "version"], "operation_versions", [
      "operation_id",
      "version",
    ])
    .execute();
  await moveDocuments(db);
  await sql`alter table operation_versions drop column document`.execute(db);
}

/** One after the other, since a document may be large. */
async function moveDocuments(db: Kysely<unknown>): Promise<void> {
  const versions = await sql<{ operation_id: string; version: number }>`
    select operation_id, version from operation_versions order by operation_id, version`.execute(db);
  for (const { operation_id, version } of versions.rows) {
    const { rows } = await sql<{ part: string; body: unknown }>`
      select e.key as part, e.value as body from operation_versions v, jsonb_each(v.document) e
      where v.operation_id = ${operation_id} and v.version = ${version}`.execute(db);
    for (const { part, body } of rows) {
      const digest = digestOf(body);
      await sql`insert into operation_parts (digest, body) values (${digest}, ${JSON.stringify(body)}::jsonb)
        on conflict do nothing`.execute(db);
      await sql`insert into operation_version_parts (operation_id, version, part, digest)
        values (${operation_id}, ${version}, ${part}, ${digest})`.execute(db);
    }
  }
}
