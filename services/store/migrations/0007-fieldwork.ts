import { type Kysely, sql } from "kysely";

/** What crews report, and the records of applications that are made of it. Both only grow. */
export async function fieldwork(db: Kysely<unknown>): Promise<void> {
  const now = sql`now()`;
  await db.schema
    .createTable("work_reports")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("place", "bigint", (column) => column.notNull().generatedAlwaysAsIdentity().unique())
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("plan_id", "uuid", (column) => column.notNull().references("plans.id"))
    .addColumn("crew_id", "text", (column) => column.notNull())
    .addColumn("date", "text", (column) => column.notNull())
    .addColumn("block_id", "text")
    .addColumn("ground", "text")
    .addColumn("kind", "text", (column) => column.notNull())
    .addColumn("at", "timestamptz", (column) => column.notNull())
    .addColumn("received_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("data", "jsonb", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("by_kind", "text", (column) => column.notNull())
    .addColumn("by_id", "text")
    .addColumn("by_name", "text", (column) => column.notNull())
    .addCheckConstraint("ground_told", sql`(block_id is null) = (ground is null)`)
    .execute();
  await db.schema
    .createIndex("work_reports_of_day")
    .on("work_reports")
    .columns(["operation_id", "crew_id", "date", "place"])
    .execute();
  await db.schema
    .createIndex("work_reports_of_block")
    .on("work_reports")
    .columns(["operation_id", "block_id"])
    .execute();
  await db.schema
    .createIndex("work_reports_received")
    .on("work_reports")
    .columns(["operation_id", "received_at"])
    .execute();

  await db.schema
    .createTable("application_records")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("crew_id", "text", (column) => column.notNull())
    .addColumn("date", "text", (column) => column.notNull())
    .addColumn("order_id", "text", (column) => column.notNull())
    .addColumn("block_id", "text", (column) => column.notNull())
    .addColumn("ground", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addUniqueConstraint("application_records_stop", ["operation_id", "crew_id", "date", "block_id", "ground"])
    .execute();
  // Texts are json and not jsonb, so that a version is read as it was written.
  await db.schema
    .createTable("application_record_versions")
    .addColumn("record_id", "uuid", (column) => column.notNull().references("application_records.id"))
    .addColumn("version", "integer", (column) => column.notNull())
    .addColumn("facts", "json", (column) => column.notNull())
    .addColumn("by_hand", "json", (column) => column.notNull())
    .addColumn("reason", "text", (column) => column.notNull())
    .addColumn("by_name", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addPrimaryKeyConstraint("application_record_versions_key", ["record_id", "version"])
    .execute();

  // Nobody changes or takes away what was reported or recorded, not by mistake either.
  await sql`create function keep_as_written() returns trigger language plpgsql as
    $$ begin raise exception '% only grows', tg_table_name; end $$`.execute(db);
  for (const table of ["work_reports", "application_records", "application_record_versions"]) {
    await sql`create trigger only_grows before update or delete on ${sql.table(table)}
      for each row execute function keep_as_written()`.execute(db);
  }
}
