import { type Kysely, sql, type Transaction } from "kysely";
import type { StoredPlan } from "../../shared/contracts/plans.ts";
import { type Progress, progressOf } from "../../shared/done/progress.ts";
import type { KeptReport, WorkReport } from "../../shared/done/workReport.ts";
import type { StopProgress } from "../../shared/plan/stopProgress.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { changeChannel } from "./changeFeed.ts";
import { digestOf } from "./digest.ts";
import { storedPlan } from "./planRows.ts";
import { recordGrounds } from "./recordGrounds.ts";
import { json } from "./sqlWords.ts";
import type { Stretch } from "./stretch.ts";
import type { Tables } from "./tables.ts";
import { blockIdsOf, reportsAbout, toKeptReport } from "./workReportRows.ts";

export interface CrewDayKey {
  readonly operationId: string;
  readonly crewId: string;
  readonly date: string;
}

export interface NewReport {
  readonly report: WorkReport;
  readonly planId: string;
  /** Of its block; null where it names none. */
  readonly ground: string | null;
}

/** `known`: it was stored before. `otherReport`: another report has this id. */
export type AddedReport = "stored" | "known" | "otherReport";

export interface WorkReportStore {
  /** Of each what became of it, in the order given. */
  addReports(day: CrewDayKey, reports: readonly NewReport[], acting: Acting): Promise<AddedReport[]>;
  /** In the order in which they came in; what is after a place, which is a whole number. */
  reportsOfDay(day: CrewDayKey, page: Stretch): Promise<{ place: string; kept: KeptReport }[]>;
  /** The plan that crews were told by that number. */
  planOfPublication(operationId: string, number: number): Promise<StoredPlan | null>;
  /** How far the stops of a plan have come, and what in the reports does not go together; null: no such plan. */
  progress(planId: string): Promise<Progress | null>;
  progressOf(planId: string): Promise<StopProgress[]>;
  /** Another text whenever something was reported or published since. */
  progressMark(operationId: string): Promise<string>;
}

export function createWorkReports(db: Kysely<Tables>): WorkReportStore {
  async function progress(planId: string): Promise<Progress | null> {
    const stored = await storedPlan(db, planId);
    if (!stored) return null;
    const told = await db
      .selectFrom("publications")
      .select("created_at")
      .where("plan_id", "=", planId)
      .orderBy("number", "desc")
      .limit(1)
      .executeTakeFirst();
    const toldAt = told?.created_at ?? null;
    const kept = await reportsAbout(db, stored.operationId, blockIdsOf(stored.plan), toldAt);
    return progressOf(stored.plan, kept, toldAt?.toISOString() ?? null);
  }

  return {
    addReports: (day, reports, acting) =>
      db.transaction().execute(async (tx) => {
        // The row's lock makes batches of one operation follow each other, so that places are given in the order of commits.
        await tx.selectFrom("operations").select("id").where("id", "=", day.operationId).forNoKeyUpdate().execute();
        const added: AddedReport[] = [];
        for (const report of reports) added.push(await addReport(tx, day, report, acting));
        const stored = reports.filter((_, at) => added[at] === "stored");
        if (stored.length > 0) {
          const { operationId, crewId, date } = day;
          const reportIds = stored.map(({ report }) => report.id);
          await recordGrounds(tx, operationId, reportIds, acting);
          const details = { crewId, date, reportIds };
          await audit(tx, acting, { operationId, thingId: `${crewId} ${date}`, details });
          await sql`select pg_notify(${changeChannel}, ${operationId})`.execute(tx);
        }
        return added;
      }),

    async reportsOfDay({ operationId, crewId, date }, { most, after }) {
      const rows = await db
        .selectFrom("work_reports")
        .selectAll()
        .where("operation_id", "=", operationId)
        .where("crew_id", "=", crewId)
        .where("date", "=", date)
        .where("place", ">", after ?? "0")
        .orderBy("place")
        .limit(most)
        .execute();
      return rows.map((row) => ({ place: row.place, kept: toKeptReport(row) }));
    },

    async planOfPublication(operationId, number) {
      const row = await db
        .selectFrom("publications")
        .select("plan_id")
        .where("operation_id", "=", operationId)
        .where("number", "=", number)
        .executeTakeFirst();
      return row ? storedPlan(db, row.plan_id) : null;
    },

    progress,

    async progressOf(planId) {
      return (await progress(planId))?.stops ?? [];
    },

    async progressMark(operationId) {
      const { rows } = await sql<{ mark: string }>`select concat_ws(' ',
        (select max(number) from publications where operation_id = ${operationId}),
        'reports', (select max(place) from work_reports where operation_id = ${operationId})) as mark`.execute(db);
      return rows[0]!.mark;
    },
  };
}

async function addReport(
  tx: Transaction<Tables>,
  { operationId, crewId, date }: CrewDayKey,
  { report, planId, ground }: NewReport,
  { by }: Acting,
): Promise<AddedReport> {
  const digest = digestOf({ operationId, crewId, date, report });
  const inserted = await tx
    .insertInto("work_reports")
    .values({
      id: report.id,
      operation_id: operationId,
      plan_id: planId,
      crew_id: crewId,
      date,
      block_id: report.kind === "correction" ? null : report.blockId,
      ground,
      kind: report.kind,
      at: report.at,
      data: json<string>(report),
      digest,
      by_kind: by.kind,
      by_id: by.id,
      by_name: by.name,
    })
    .onConflict((conflict) => conflict.column("id").doNothing())
    .executeTakeFirst();
  if (inserted.numInsertedOrUpdatedRows !== 0n) return "stored";
  const known = await tx
    .selectFrom("work_reports")
    .select("digest")
    .where("id", "=", report.id)
    .executeTakeFirstOrThrow();
  return known.digest === digest ? "known" : "otherReport";
}
