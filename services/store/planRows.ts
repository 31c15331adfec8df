import { type Kysely, sql } from "kysely";
import type { PlanOrigin, PlanSummary, StoredPlan } from "../../shared/contracts/plans.ts";
import { storedPlanSchema } from "../../shared/contracts/plans.ts";
import type { Tables } from "./tables.ts";

/** Of the plan `p`: published is what was published last of its operation. */
export const planState = sql<PlanSummary["state"]>`coalesce((
  select case when q.number = (select max(l.number) from publications l where l.operation_id = p.operation_id) then 'published' else 'superseded' end
  from publications q where q.plan_id = p.id order by q.number desc limit 1), 'draft')`;

/** Plans without what is in them. */
export function readPlans(db: Kysely<Tables>) {
  return db
    .selectFrom("plans as p")
    .select(["p.id", "p.operation_id", "p.version", "p.origin", "p.parent_id", "p.created_at", planState.as("state")]);
}

export async function planSummary(db: Kysely<Tables>, planId: string): Promise<PlanSummary | null> {
  const row = await readPlans(db).where("p.id", "=", planId).executeTakeFirst();
  return row ? toldPlan(row) : null;
}

export async function storedPlan(db: Kysely<Tables>, planId: string): Promise<StoredPlan | null> {
  const row = await readPlans(db).select("p.plan").where("p.id", "=", planId).executeTakeFirst();
  return row ? storedPlanSchema.parse({ ...toldPlan(row), plan: row.plan }) : null;
}

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
