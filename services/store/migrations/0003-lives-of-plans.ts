import { type Kysely, sql } from "kysely";

/** Plans that come of other things than a request, what was published and when, who changed what, and keys by which a call that is sent twice is known again. */
export async function livesOfPlans(db: Kysely<unknown>): Promise<void> {
  const now = sql`now()`;
  await sql`alter table operation_versions add column derived boolean not null default false`.execute(db);

  await sql`alter table plans rename column request_id to id`.execute(db);
  await sql`alter table plans
    drop constraint plans_request_id_fkey,
    add column request_id uuid unique references plan_requests (id),
    add column operation_id uuid,
    add column version integer,
    add column origin text not null default 'planned',
    add column parent_id uuid references plans (id)`.execute(db);
  await sql`update plans set request_id = r.id, operation_id = r.operation_id, version = r.version
    from plan_requests r where r.id = plans.id`.execute(db);
  await sql`alter table plans
    alter column operation_id set not null,
    alter column version set not null,
    add constraint plans_version foreign key (operation_id, version) references operation_versions (operation_id, version),
    add constraint known_origin check (origin in ('planned', 'replanned', 'moved')),
    add constraint request_told check ((origin = 'moved') = (request_id is null))`.execute(db);
  await db.schema.createIndex("plans_of_operation").on("plans").columns(["operation_id", "created_at"]).execute();

  await sql`alter table plan_requests
    add column kind text not null default 'plan',
    add column from_plan_id uuid references plans (id),
    add column ask jsonb not null default '{}',
    add constraint known_kind check (kind in ('plan', 'replan')),
    add constraint from_told check ((kind = 'replan') = (from_plan_id is not null))`.execute(db);

  await db.schema
    .createTable("publications")
    .addColumn("id", "uuid", (column) => column.primaryKey())
    .addColumn("operation_id", "uuid", (column) => column.notNull().references("operations.id"))
    .addColumn("number", "integer", (column) => column.notNull())
    .addColumn("plan_id", "uuid", (column) => column.notNull().references("plans.id"))
    .addColumn("note", "text", (column) => column.notNull().defaultTo(""))
    .addColumn("by_name", "text", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addUniqueConstraint("publications_number", ["operation_id", "number"])
    .execute();
  await db.schema.createIndex("publications_of_plan").on("publications").column("plan_id").execute();

  await db.schema
    .createTable("once_keys")
    .addColumn("caller", "text", (column) => column.notNull())
    .addColumn("key", "text", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("thing_id", "uuid", (column) => column.notNull())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addPrimaryKeyConstraint("once_keys_key", ["caller", "key"])
    .execute();

  await db.schema
    .createTable("audit")
    .addColumn("id", "bigint", (column) => column.primaryKey().generatedAlwaysAsIdentity())
    .addColumn("created_at", "timestamptz", (column) => column.notNull().defaultTo(now))
    .addColumn("by_kind", "text", (column) => column.notNull())
    .addColumn("by_id", "text")
    .addColumn("by_name", "text", (column) => column.notNull())
    .addColumn("action", "text", (column) => column.notNull())
    .addColumn("operation_id", "uuid")
    .addColumn("thing_id", "text")
    .addColumn("details", "jsonb", (column) => column.notNull())
    .addColumn("call_id", "text")
    .execute();
  await db.schema.createIndex("audit_of_operation").on("audit").columns(["operation_id", "id"]).execute();
}
