import { type Kysely, type Migration, Migrator, sql } from "kysely";

/** Forward only: a step that was released is never changed; what must go back is another step forward. */
const migrations: Record<string, Migration> = {
  "0001-operations-and-plans": { up: operationsAndPlans },
  "0002-case-sets-and-studies": { up: caseSetsAndStudies },
};

/** A step stands for the tables of its own time, not of today's: hence no table types. */
async function operationsAndPlans(db: Kysely<unknown>): Promise<void> {
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

async function caseSetsAndStudies(db: Kysely<unknown>): Promise<void> {
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

/** Kysely takes an advisory lock in the transaction, so that processes that start together do not step on each other. */
export async function migrate<T>(db: Kysely<T>): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => migrations } });
  const { error } = await migrator.migrateToLatest();
  if (error) throw error;
}
