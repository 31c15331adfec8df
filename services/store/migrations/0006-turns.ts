import { type Kysely, sql } from "kysely";

/**
 * The turn in which a part is worked; whether a piece is to be worked alone, because memory did not suffice; when its worker told last that it lives; and whether a failure
 * has been seen and laid aside.
 */
export async function turns(db: Kysely<unknown>): Promise<void> {
  await sql`alter table study_parts
    add column turn integer not null default 0,
    add column alone boolean not null default false,
    add column reported_at timestamptz,
    add column dismissed boolean not null default false`.execute(db);
  await sql`alter table plan_requests
    add column alone boolean not null default false,
    add column reported_at timestamptz,
    add column dismissed boolean not null default false`.execute(db);
  await sql`alter table studies add column dismissed boolean not null default false`.execute(db);

  await sql`create index study_parts_unfinished on study_parts (turn) where status in ('queued', 'running')`.execute(
    db,
  );
  await sql`create index study_parts_failed on study_parts (ended_at) where status = 'failed'`.execute(db);
  await sql`create index plan_requests_unfinished on plan_requests (created_at) where status in ('queued', 'running')`.execute(
    db,
  );
  await sql`create index plan_requests_failed on plan_requests (ended_at) where status = 'failed'`.execute(db);
  await sql`create index studies_failed on studies (ended_at) where status = 'failed'`.execute(db);
}
