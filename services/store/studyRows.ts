import { type ExpressionBuilder, type Kysely, type Selectable, sql, type Transaction } from "kysely";
import { type StudySummary, studySummarySchema } from "../../shared/contracts/studies.ts";
import { planSchema } from "../../shared/plan/plan.ts";
import { changeChannel } from "./changeFeed.ts";
import { operationNamed } from "./operationVersions.ts";
import { now, unfinished } from "./sqlWords.ts";
import { everything, olderThan } from "./stretch.ts";
import type { StudiesAsked, StudyInput } from "./studyStore.ts";
import type { Tables } from "./tables.ts";

export type StudyRow = Selectable<Tables["studies"]>;

/** The study, which nobody else changes until the transaction ends; undefined when it is unknown or has ended. */
export function lockStudy(tx: Transaction<Tables>, studyId: string): Promise<StudyRow | undefined> {
  return tx
    .selectFrom("studies")
    .selectAll()
    .where("id", "=", studyId)
    .where("status", "in", unfinished)
    .forUpdate()
    .executeTakeFirst();
}

/** Told to the change feed when the change is committed. */
export async function announceStudy(db: Kysely<Tables>, studyId: string): Promise<void> {
  await sql`select pg_notify(${changeChannel}, ${studyId})`.execute(db);
}

/** Newest first, with their progress and without their results. */
export async function readStudies(
  db: Kysely<Tables>,
  column: "s.id" | "s.operation_id",
  id: string,
  { most, after, status, kind }: StudiesAsked = { ...everything, status: null, kind: null },
): Promise<StudySummary[]> {
  const rows = await db
    .selectFrom("studies as s")
    .where(column, "=", id)
    .$if(after !== null, (query) => query.where(olderThan("studies", "s", after!)))
    .$if(status !== null, (query) => query.where("s.status", "=", status!))
    .$if(kind !== null, (query) => query.where("s.kind", "=", kind!))
    .limit(most)
    .innerJoinLateral(
      (eb) =>
        eb
          .selectFrom("study_parts as p")
          .whereRef("p.study_id", "=", "s.id")
          .select([
            sql<number>`count(*)::int`.as("parts"),
            sql<number>`count(p.ended_at)::int`.as("ended"),
            sql<number>`(count(*) filter (where p.status = 'failed'))::int`.as("failed"),
            sql<number>`avg(case when p.ended_at is null then p.share else 1 end)`.as("share"),
          ])
          .as("progress"),
      (join) => join.onTrue(),
    )
    .select(["s.id", "s.kind", "s.operation_id", "s.version", "s.plan_id", "s.case_set_id", "s.case_set_version"])
    .select(["s.ask", "s.status", "s.failure", "s.created_at", "s.started_at", "s.ended_at"])
    .select(["progress.parts", "progress.ended", "progress.failed", "progress.share"])
    .orderBy("s.created_at", "desc")
    .orderBy("s.id", "desc")
    .execute();
  return rows.map((row) =>
    studySummarySchema.parse({
      id: row.id,
      kind: row.kind,
      operationId: row.operation_id,
      version: row.version,
      planId: row.plan_id,
      caseSetId: row.case_set_id,
      caseSetVersion: row.case_set_version,
      ask: row.ask,
      status: row.status,
      progress: { parts: row.parts, ended: row.ended, failed: row.failed, share: row.share },
      failure: row.failure,
      createdAt: row.created_at.toISOString(),
      startedAt: row.started_at?.toISOString() ?? null,
      endedAt: row.ended_at?.toISOString() ?? null,
    }),
  );
}

export async function studyInput(db: Kysely<Tables>, study: StudyRow): Promise<StudyInput> {
  const cases =
    study.case_set_id === null || study.case_set_version === null
      ? null
      : await db
          .selectFrom("case_set_versions")
          .select("document")
          .where("case_set_id", "=", study.case_set_id)
          .where("version", "=", study.case_set_version)
          .executeTakeFirstOrThrow();
  const plan =
    study.plan_id === null
      ? null
      : await db.selectFrom("plans").select("plan").where("id", "=", study.plan_id).executeTakeFirstOrThrow();
  return {
    kind: study.kind,
    ask: study.ask,
    operation: await operationNamed(db, study),
    cases: cases?.document ?? null,
    plan: plan === null ? null : planSchema.parse(plan.plan),
  };
}

export const allPartsHaveEnded = ({
  not,
  exists,
  selectFrom,
}: ExpressionBuilder<Tables & { s: Tables["studies"] }, "s">) =>
  not(
    exists(
      selectFrom("study_parts as p")
        .select("p.part")
        .whereRef("p.study_id", "=", "s.id")
        .where("p.status", "in", unfinished),
    ),
  );

/** A study that is to be cancelled has ended when none of its parts runs any more. */
export async function endCancelled(tx: Transaction<Tables>, studyId: string): Promise<void> {
  await tx
    .updateTable("studies as s")
    .set({ status: "cancelled", ended_at: now })
    .where("s.id", "=", studyId)
    .where("s.cancel_wanted", "=", true)
    .where(allPartsHaveEnded)
    .execute();
}
