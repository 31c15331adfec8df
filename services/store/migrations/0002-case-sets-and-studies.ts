import { type Kysely, sql } from "kysely";

export async function caseSetsAndStudies(db: Kysely<unknown>): Promise<void> {
  const now = sql`now()`;
  const knownStatus = sql`status in ('queued', 'running', 'done', 'failed', 'cancelled')`;
  const failureTold = sql`(status = 'failed') = (failure is not null)`;
  // Results are json and not jsonb: they are read as they were written, their members in the same order.
  const resultTold = sql`(status = 'done') = (result is not null)`;
  await db.schema
    .createTable("case_sets")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("name", "text", (column) => column.notNull())
    .addUniqueConstraint("case_sets_name", ["operation_id", "name"])
    .execute();
  await db.schema
    .createTable("case_set_versions")
    .addColumn("case_set_id", "uuid", (column) => column.notNull().references("case_sets.id"))
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("document", "jsonb", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addPrimaryKeyConstraint("case_set_versions_key", ["case_set_id", "version"])
    .execute();
  await db.schema
    .createTable("studies")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("kind", "text", (column) => column.notNull())
    .addColumn("operation_id", "uuid", (column) => column.notNull())
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("plan_id", "uuid", (column) => column.references("plans.request_id"))
    .addColumn("case_set_id", "uuid")
    .addColumn("case_set_version", "integer")
    .addColumn("ask", "jsonb", (column) => column.notNull())
    .addColumn("status", "text", (column) => column.notNull().defaultTo("queued"))
    .addColumn("cancel_wanted", "boolean", (column) => column.notNull().defaultTo(false))
    .addColumn("result", "json")
    .addColumn("failure", "jsonb")
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("started_at", "timestamptz")
    .addColumn("ended_at", "timestamptz")
    .addForeignKeyConstraint("studies_version", ["operation_id", "version"], "operation_versions", [
      "operation_id",
      "version",
    ])
    .addForeignKeyConstraint("studies_case_set_version", ["case_set_id", "case_set_version"], "case_set_versions", [
      "case_set_id",
      "version",
    ])
    .addCheckConstraint("whole_case_set_version", sql`(case_set_id is null) = (case_set_version is null)`)
    .addCheckConstraint("known_status", knownStatus)
    .addCheckConstraint("failure_told", failureTold)
    .addCheckConstraint("result_told", resultTold)
    .execute();
  await db.schema.createIndex("studies_of_operation").on("studies").columns(["operation_id", "created_at"]).execute();
  await db.schema
    .createTable("study_parts")
    .addColumn("study_id", "uuid", (column) => column.notNull().references("studies.id"))
    .addColumn("part", "integer", (column) => column.notNull())
    .addColumn("ask", "jsonb", (column) => column.notNull())
    .addColumn("status", "text", (column) => column.notNull().defaultTo("queued"))
    .addColumn("starts", "integer", (column) => column.notNull().defaultTo(0))
    .addColumn("share", "double precision", (column) => column.notNull().defaultTo(0))
    .addColumn("result", "json")
    .addColumn("failure", "jsonb")
    .addColumn("started_at", "timestamptz")
    .addColumn("ended_at", "timestamptz")
    .addPrimaryKeyConstraint("study_parts_key", ["study_id", "part"])
    .addCheckConstraint("known_status", knownStatus)
    .addCheckConstraint("failure_told", failureTold)
    .addCheckConstraint("result_told", resultTold)
    .execute();
}
