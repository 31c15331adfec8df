import { type Kysely, sql, type Transaction } from "kysely";
import {
  type DeadLetter,
  type DeadLetterKind,
  deadLetterKinds,
  deadLetterSchema,
} from "../../shared/contracts/deadLetters.ts";
import type { StudyKind } from "../../shared/contracts/studies.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import type { Tables } from "./tables.ts";

/** Where one stands in the list: microseconds, since the database's clock has them. */
export interface DeadLetterPlace {
  readonly failedUs: number;
  readonly id: string;
}

export type Revived =
  | { readonly outcome: "queued"; readonly kind: DeadLetterKind; readonly thingId: string }
  | { readonly outcome: "notDead" }
  | { readonly outcome: "otherCall" };

/** What has failed for good and was not laid aside: plan requests, studies, and runs of studies that have not failed as a whole. */
export interface DeadLetterStore {
  /** Newest first, so many at most, those that follow the place. */
  deadLetters(
    kind: DeadLetterKind | null,
    most: number,
    after: DeadLetterPlace | null,
  ): Promise<(DeadLetter & { readonly place: DeadLetterPlace })[]>;
  /** Back to queued, as if it had never been begun. `thingId` is the plan request's or the study's. */
  revive(id: string, acting: Acting): Promise<Revived>;
  /** False when it is not among the dead letters. */
  dismiss(id: string, acting: Acting): Promise<boolean>;
}

interface LetterRow {
  readonly id: string;
  readonly kind: DeadLetterKind;
  readonly operation_id: string;
  readonly operation_name: string;
  readonly version: number;
  readonly study_kind: StudyKind | null;
  readonly failure_kind: string;
  readonly message: string;
  readonly starts: number;
  readonly ended_at: Date;
  readonly failed_us: string;
}

/** As a table, for counting. */
export const letters = sql`(
  select 'plan' as kind, id::text, operation_id, version, null as study_kind, failure, starts, ended_at
  from plan_requests where status = 'failed' and not dismissed
  union all
  select 'study', id::text, operation_id, version, kind, failure,
    (select max(p.starts) from study_parts p where p.study_id = studies.id), ended_at
  from studies where status = 'failed' and not dismissed
  union all
  select 'run', p.study_id || '.' || p.part, s.operation_id, s.version, s.kind, p.failure, p.starts, p.ended_at
  from study_parts p join studies s on s.id = p.study_id
  where p.status = 'failed' and not p.dismissed and s.status not in ('failed', 'cancelled')
)`;
const failedUs = sql`(extract(epoch from l.ended_at) * 1000000)::bigint`;

class NotDead extends Error {}

export function createDeadLetters(db: Kysely<Tables>): DeadLetterStore {
  return {
    async deadLetters(kind, most, after) {
      const { rows } = await sql<LetterRow>`
        select l.id, l.kind, l.operation_id, o.name as operation_name, l.version, l.study_kind,
          l.failure ->> 'kind' as failure_kind, l.failure ->> 'message' as message, l.starts, l.ended_at,
          ${failedUs} as failed_us
        from ${letters} l join operations o on o.id = l.operation_id
        where (${kind}::text is null or l.kind = ${kind})
          and (${after === null} or (${failedUs}, l.id) < (${after?.failedUs ?? 0}::bigint, ${after?.id ?? ""}))
        order by failed_us desc, l.id desc
        limit ${most}`.execute(db);
      return rows.map((row) => ({ ...toLetter(row), place: { failedUs: Number(row.failed_us), id: row.id } }));
    },

    async revive(id, acting) {
      try {
        return await db.transaction().execute(async (tx) => {
          const made = await once(tx, acting, async () => {
            if (!(await change(tx, id, acting, reviving))) throw new NotDead();
          });
          if (made.outcome === "otherCall") return { outcome: "otherCall" };
          const { thingId, part } = partsOf(id);
          return { outcome: "queued", kind: part === null ? await kindOf(tx, thingId) : "run", thingId };
        });
      } catch (error) {
        // What was written before is undone, the key of the call too.
        if (error instanceof NotDead) return { outcome: "notDead" };
        throw error;
      }
    },

    dismiss: (id, acting) => db.transaction().execute((tx) => change(tx, id, acting, dismissing)),
  };
}

function toLetter(row: LetterRow): DeadLetter {
  return deadLetterSchema.parse({
    id: row.id,
    kind: row.kind,
    operationId: row.operation_id,
    operationName: row.operation_name,
    version: row.version,
    studyKind: row.study_kind,
    failure: { kind: row.failure_kind, message: row.message },
    starts: row.starts,
    failedAt: row.ended_at.toISOString(),
  });
}

function partsOf(id: string): { readonly thingId: string; readonly part: number | null } {
  const [thingId, part] = id.split(".");
  return { thingId: thingId!, part: part === undefined ? null : Number(part) };
}

async function kindOf(tx: Transaction<Tables>, thingId: string): Promise<DeadLetterKind> {
  const plan = await tx.selectFrom("plan_requests").select("id").where("id", "=", thingId).executeTakeFirst();
  return plan ? deadLetterKinds[0] : deadLetterKinds[1];
}

/** What is done to a plan request, a study or a run: only one of the three has the id. */
interface Doing {
  plan(tx: Transaction<Tables>, id: string): Promise<{ operation_id: string } | undefined>;
  study(tx: Transaction<Tables>, id: string): Promise<{ operation_id: string } | undefined>;
  run(tx: Transaction<Tables>, studyId: string, part: number): Promise<{ operation_id: string } | undefined>;
}

async function change(tx: Transaction<Tables>, id: string, acting: Acting, doing: Doing): Promise<boolean> {
  const { thingId, part } = partsOf(id);
  const changed =
    part === null
      ? ((await doing.plan(tx, thingId)) ?? (await doing.study(tx, thingId)))
      : await doing.run(tx, thingId, part);
  if (!changed) return false;
  await audit(tx, acting, { operationId: changed.operation_id, thingId: id });
  return true;
}

const fresh = { status: "queued", starts: 0, failure: null, ended_at: null, dismissed: false } as const;

const reviving: Doing = {
  plan: (tx, id) =>
    tx
      .updateTable("plan_requests")
      .set({ ...fresh, cancel_wanted: false, progress: null })
      .where("id", "=", id)
      .where("status", "=", "failed")
      .returning("operation_id")
      .executeTakeFirst(),

  /** With those of its runs that have failed; without one it is only concluded again. */
  async study(tx, id) {
    const study = await tx
      .updateTable("studies")
      .set({ status: "queued", failure: null, ended_at: null, cancel_wanted: false, dismissed: false })
      .where("id", "=", id)
      .where("status", "=", "failed")
      .returning("operation_id")
      .executeTakeFirst();
    if (study)
      await tx
        .updateTable("study_parts")
        .set({ ...fresh, share: 0 })
        .where("study_id", "=", id)
        .where("status", "=", "failed")
        .execute();
    return study;
  },

  /** The study is concluded once more when the run has ended. */
  async run(tx, studyId, part) {
    const study = await tx
      .updateTable("studies")
      .set({ status: "running", result: null, ended_at: null })
      .where("id", "=", studyId)
      .where("status", "not in", ["failed", "cancelled"])
      .where(({ exists, selectFrom }) =>
        exists(
          selectFrom("study_parts")
            .select("part")
            .where("study_id", "=", studyId)
            .where("part", "=", part)
            .where("status", "=", "failed"),
        ),
      )
      .returning("operation_id")
      .executeTakeFirst();
    if (study)
      await tx
        .updateTable("study_parts")
        .set({ ...fresh, share: 0 })
        .where("study_id", "=", studyId)
        .where("part", "=", part)
        .execute();
    return study;
  },
};

const dismissing: Doing = {
  plan: (tx, id) =>
    tx
      .updateTable("plan_requests")
      .set({ dismissed: true })
      .where("id", "=", id)
      .where("status", "=", "failed")
      .where("dismissed", "=", false)
      .returning("operation_id")
      .executeTakeFirst(),
  study: (tx, id) =>
    tx
      .updateTable("studies")
      .set({ dismissed: true })
      .where("id", "=", id)
      .where("status", "=", "failed")
      .where("dismissed", "=", false)
      .returning("operation_id")
      .executeTakeFirst(),
  run: (tx, studyId, part) =>
    tx
      .updateTable("study_parts as p")
      .from("studies as s")
      .whereRef("s.id", "=", "p.study_id")
      .set({ dismissed: true })
      .where("p.study_id", "=", studyId)
      .where("p.part", "=", part)
      .where("p.status", "=", "failed")
      .where("p.dismissed", "=", false)
      .where("s.status", "not in", ["failed", "cancelled"])
      .returning("s.operation_id")
      .executeTakeFirst(),
};
