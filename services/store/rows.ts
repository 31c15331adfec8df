import type { Selectable } from "kysely";
import {
  type OperationSummary,
  type OperationVersion,
  operationSummarySchema,
  operationVersionSchema,
} from "../../shared/contracts/operations.ts";
import { type PlanRequest, planRequestSchema } from "../../shared/contracts/planRequests.ts";
import type { Tables } from "./tables.ts";

interface SummaryRow {
  id: string;
  name: string;
  version: number;
  digest: string;
  created_at: Date;
}

export function toSummary(row: SummaryRow): OperationSummary {
  const { created_at, ...rest } = row;
  return operationSummarySchema.parse({ ...rest, createdAt: created_at.toISOString() });
}

/** Parsed again, so that a document stored by an older release gets the defaults that have come since. */
export function toVersion(row: SummaryRow & { document: unknown }): OperationVersion {
  const { created_at, ...rest } = row;
  return operationVersionSchema.parse({ ...rest, createdAt: created_at.toISOString() });
}

export function toPlanRequest(row: Selectable<Tables["plan_requests"]> & { plan_id: string | null }): PlanRequest {
  return planRequestSchema.parse({
    id: row.id,
    operationId: row.operation_id,
    version: row.version,
    kind: row.kind,
    fromPlanId: row.from_plan_id,
    seconds: row.seconds,
    iterations: row.iterations,
    seed: Number(row.seed),
    status: row.status,
    progress: row.progress,
    failure: row.failure,
    planId: row.plan_id,
    createdAt: row.created_at.toISOString(),
    startedAt: row.started_at?.toISOString() ?? null,
    endedAt: row.ended_at?.toISOString() ?? null,
  });
}
