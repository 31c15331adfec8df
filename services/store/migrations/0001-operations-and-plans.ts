import { type Kysely, sql } from "kysely";

export async function operationsAndPlans(db: Kysely<unknown>): Promise<void> {
  const now = sql`now()`;
  await db.schema
    .createTable("operations")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("name", "text", (column) => column.notNull().unique())
    .execute();
  await db.schema
    .createTable("operation_versions")
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("document", "jsonb", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addPrimaryKeyConstraint("operation_versions_key", ["operation_id", "version"])
    .execute();
  await db.schema
    .createTable("plan_requests")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("operation_id", "uuid", (column) => column.notNull())
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("seconds", "double precision")
    .addColumn("iterations", "integer")
    .addColumn("seed", "bigint", (column) => column.notNull())
    .addColumn("status", "text", (column) => column.notNull().defaultTo("queued"))
    .addColumn("starts", "integer", (column) => column.notNull().defaultTo(0))
    .addColumn("cancel_wanted", "boolean", (column) => column.notNull().defaultTo(false))
    .addColumn("progress", "jsonb")
    .addColumn("failure", "jsonb")
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("started_at", "timestamptz")
    .addColumn("ended_at", "timestamptz")
    .addForeignKeyConstraint("plan_requests_version", ["operation_id", "version"], "operation_versions", [
      "operation_id",
      "version",
    ])
    .addCheckConstraint("one_budget", sql`(seconds is null) <> (iterations is null)`)
    .addCheckConstraint("known_status", sql`status in ('queued', 'running', 'done', 'failed', 'cancelled')`)
    .addCheckConstraint("failure_told", sql`(status = 'failed') = (failure is not null)`)
    .execute();
  await db.schema
    .createIndex("plan_requests_of_operation")
    .on("plan_requests")
    .columns(["operation_id", "created_at"])
    .execute();
  await db.schema
    .createTable("plans")
    .addColumn("request_id", "uuid", (column) => column.primaryKey().references("plan_requests.id"))
    .addColumn("plan", "jsonb", (column) => column.notNull())
    .addColumn("report", "jsonb", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .execute();
}
