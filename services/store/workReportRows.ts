import { type Kysely, type Selectable, sql } from "kysely";
import { type KeptReport, keptReportSchema } from "../../shared/done/workReport.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Tables } from "./tables.ts";

export function toKeptReport(row: Selectable<Tables["work_reports"]>): KeptReport {
  return keptReportSchema.parse({
    report: row.data,
    planId: row.plan_id,
    crewId: row.crew_id,
    date: row.date,
    ground: row.ground,
    receivedAt: row.received_at.toISOString(),
    byName: row.by_name,
  });
}

/** All that bears on the blocks: reports on them in any plan, corrections of any report, and what came in after the moment. */
export async function reportsAbout(
  db: Kysely<Tables>,
  operationId: string,
  blockIds: readonly string[],
  after: Date | null,
): Promise<KeptReport[]> {
  const rows = await db
    .selectFrom("work_reports")
    .selectAll()
    .where("operation_id", "=", operationId)
    .where((where) =>
      where.or([
        where("block_id", "=", sql<string>`any(${blockIds})`),
        where("kind", "=", "correction"),
        ...(after === null ? [] : [where("received_at", ">", sql<Date>`${after}`)]),
      ]),
    )
    .orderBy("place")
    .execute();
  return rows.map(toKeptReport);
}

export const blockIdsOf = (plan: Pick<Plan, "blocks">): string[] => plan.blocks.map(({ id }) => id);
