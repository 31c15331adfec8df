import { type Kysely, sql } from "kysely";

/** People, what they may show to be known, and links for crews' phones. Of every secret only a hash. */
export async function people(db: Kysely<unknown>): Promise<void> {
  const now = sql`now()`;
  await db.schema
    .createTable("people")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("shown_name", "text", (column) => column.notNull())
    .addColumn("password", "text")
    .addColumn("roles", sql`text[]`, (column) => column.notNull())
    .addColumn("active", "boolean", (column) => column.notNull().defaultTo(true))
    .addColumn("version", "integer", (column) => column.notNull().defaultTo(1))
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addCheckConstraint("known_roles", sql`roles <@ array['dispatcher', 'crewLead', 'owner', 'administrator']`)
    .execute();
  await sql`create unique index people_name on people (lower(name))`.execute(db);

  await db.schema
    .createTable("person_crews")
    .addColumn("person_id", "uuid", (column) => column.notNull().references("people.id"))
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("crew_id", "text", (column) => column.notNull())
    .addPrimaryKeyConstraint("person_crews_key", ["person_id", "operation_id", "crew_id"])
    .execute();

  await db.schema
    .createTable("crew_links")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("crew_id", "text", (column) => column.notNull())
    .addColumn("note", "text", (column) => column.notNull())
    .addColumn("by_name", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("expires_at", "timestamptz", (column) => column.notNull())
    .addColumn("revoked_at", "timestamptz")
    .execute();
  await db.schema.createIndex("crew_links_of_operation").on("crew_links").column("operation_id").execute();

  await db.schema
    .createTable("sessions")
    .addColumn("hash", "text", (column) => column.primaryKey())
    .addColumn("person_id", "uuid", (column) => column.references("people.id"))
    .addColumn("crew_link_id", "uuid", (column) => column.references("crew_links.id"))
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("last_seen_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("expires_at", "timestamptz", (column) => column.notNull())
    .addCheckConstraint("somebodys", sql`(person_id is null) <> (crew_link_id is null)`)
    .execute();
  await db.schema.createIndex("sessions_of_person").on("sessions").column("person_id").execute();

  await db.schema
    .createTable("tokens")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("hash", "text", (column) => column.notNull().unique())
    .addColumn("person_id", "uuid", (column) => column.notNull().references("people.id"))
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("roles", sql`text[]`, (column) => column.notNull())
    .addColumn("read_only", "boolean", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("expires_at", "timestamptz", (column) => column.notNull())
    .addColumn("revoked_at", "timestamptz")
    .addColumn("last_used_at", "timestamptz")
    .execute();
  await db.schema.createIndex("tokens_of_person").on("tokens").column("person_id").execute();

  await db.schema
    .createTable("one_time_links")
    .addColumn("hash", "text", (column) => column.primaryKey())
    .addColumn("person_id", "uuid", (column) => column.references("people.id"))
    .addColumn("expires_at", "timestamptz", (column) => column.notNull())
    .execute();

  await db.schema
    .createTable("sign_in_attempts")
    .addColumn("key", "text", (column) => column.notNull())
    .addColumn("attempt_id", "uuid", (column) => column.notNull())
    .addColumn("at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addPrimaryKeyConstraint("sign_in_attempts_key", ["key", "attempt_id"])
    .execute();
  await db.schema.createIndex("sign_in_attempts_at").on("sign_in_attempts").column("at").execute();

  // The audit trail is read by its newest entries, and by who did it.
  await db.schema.createIndex("audit_by").on("audit").columns(["by_id", "id"]).execute();
}
