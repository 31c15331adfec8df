import type { Transaction } from "kysely";
import { applicationFactsOf } from "../../shared/done/applicationFacts.ts";
import { standing } from "../../shared/done/standing.ts";
import { treatedOf } from "../../shared/done/treated.ts";
import type { KeptReport } from "../../shared/done/workReport.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Acting } from "./acting.ts";
import { recordStop } from "./applicationRecords.ts";
import { operationNamed } from "./operationVersions.ts";
import { storedPlan } from "./planRows.ts";
import type { Tables } from "./tables.ts";
import { reportsAbout } from "./workReportRows.ts";

interface PlanWithOperation {
  readonly plan: Plan;
  readonly operation: Operation;
}

/**
 * Brings the records up to date with what has been reported. Hectares are told in all, so a report that comes late changes what crew-days after it have done: every crew-day on the same ground is
 * reckoned again.
 */
export async function recordGrounds(
  tx: Transaction<Tables>,
  operationId: string,
  reportIds: readonly string[],
  acting: Acting,
): Promise<void> {
  const blockIds = await blocksTouched(tx, reportIds);
  if (blockIds.length === 0) return;
  const kept = await reportsAbout(tx, operationId, blockIds, null);
  const stands = standing(kept).reports;
  const plans = new Map<string, PlanWithOperation>();
  const lastOfStop = new Map(kept.flatMap((one) => (one.ground === null ? [] : [[stopKey(one), one] as const])));
  for (const { crewId, date, ground, planId, report } of lastOfStop.values()) {
    if (report.kind === "correction" || ground === null) continue;
    const { blockId } = report;
    const about = stands.filter((one) => one.ground === ground && blockOf(one) === blockId);
    const wasTreated = treatedOf(about, { crewId, date }) !== null;
    const known = wasTreated ? (plans.get(planId) ?? (await planWithOperation(tx, planId))) : null;
    if (known) plans.set(planId, known);
    const facts = known && applicationFactsOf({ ...known, planId, blockId, crewId, date, about });
    const orderId = blockId.slice(0, blockId.lastIndexOf("#"));
    await recordStop(tx, { operationId, crewId, date, orderId, blockId, ground }, facts, acting);
  }
}

const blockOf = ({ report }: KeptReport) => (report.kind === "correction" ? null : report.blockId);
const stopKey = (one: KeptReport) => JSON.stringify([one.crewId, one.date, blockOf(one), one.ground]);

/** Blocks that the reports are about; of a correction the block of the report that it withdraws. */
async function blocksTouched(tx: Transaction<Tables>, reportIds: readonly string[]): Promise<string[]> {
  const rows = await tx
    .selectFrom("work_reports")
    .select(["block_id", "data", "kind"])
    .where("id", "in", reportIds)
    .execute();
  const withdrawn = rows.flatMap(({ kind, data }) =>
    kind === "correction" ? [(data as { withdraws: string }).withdraws] : [],
  );
  const named =
    withdrawn.length === 0
      ? []
      : await tx.selectFrom("work_reports").select("block_id").where("id", "in", withdrawn).execute();
  return [...new Set([...rows, ...named].flatMap(({ block_id }) => (block_id === null ? [] : [block_id])))];
}

async function planWithOperation(tx: Transaction<Tables>, planId: string): Promise<PlanWithOperation> {
  const stored = await storedPlan(tx, planId);
  if (!stored) throw new Error(`a report names plan ${planId}, which is not there`);
  const operation = await operationNamed(tx, { operation_id: stored.operationId, version: stored.version });
  return { plan: stored.plan, operation };
}
