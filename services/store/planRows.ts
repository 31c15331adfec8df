import { sql } from "kysely";
import type { PlanOrigin, PlanSummary } from "../../shared/contracts/plans.ts";

/** Of the plan `p`: published is what was published last of its operation. */
export const planState = sql<PlanSummary["state"]>`coalesce((
  select case when q.number = (select max(l.number) from publications l where l.operation_id = p.operation_id) then 'published' else 'superseded' end
  from publications q where q.plan_id = p.id order by q.number desc limit 1), 'draft')`.as("state");

interface PlanRow {
  id: string;
  operation_id: string;
  version: number;
  origin: PlanOrigin;
  parent_id: string | null;
  state: PlanSummary["state"];
  created_at: Date;
}

export function toldPlan({ id, operation_id, version, origin, parent_id, state, created_at }: PlanRow): PlanSummary {
  return {
    id,
    operationId: operation_id,
    version,
    origin,
    parentId: parent_id,
    state,
    createdAt: created_at.toISOString(),
  };
}
