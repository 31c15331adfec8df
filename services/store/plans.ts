import { type Kysely, sql } from "kysely";
import {
  checkReportSchema,
  type ListedPlan,
  listedPlanSchema,
  type PlanOrigin,
  type PlanState,
  type PlanSummary,
  type StoredPlan,
  type StoredReport,
} from "../../shared/contracts/plans.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Acting, Made } from "./acting.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import { planState, planSummary, readPlans, storedPlan, toldPlan } from "./planRows.ts";
import { json } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface PlanFilter {
  readonly operationId: string;
  readonly state?: PlanState | undefined;
  readonly origin?: PlanOrigin | undefined;
}

/** Where a page of a list ends, and so the next one begins. */
export interface PlaceInList {
  /** Microseconds since 1970: a Date would lose those by which the list is sorted. */
  readonly createdUs: string;
  readonly id: string;
}

export interface NewMovedPlan {
  /** The plan that it was made of. */
  readonly parent: Pick<PlanSummary, "id" | "operationId" | "version">;
  readonly plan: Plan;
  readonly report: CheckReport;
  /** What was moved, for the audit trail. */
  readonly moves: readonly object[];
}

/** Discarding: only what was made by hand, was never published, and from which nothing else was made. */
export type DiscardOutcome = "discarded" | "unknown" | "plannedBySearch" | "published" | "madeFurther";

export interface PlanStore {
  plan(planId: string): Promise<StoredPlan | null>;
  planSummary(planId: string): Promise<PlanSummary | null>;
  checkReport(planId: string): Promise<StoredReport | null>;
  /** Newest first, after a place in the list. */
  plans(
    filter: PlanFilter,
    limit: number,
    after: PlaceInList | null,
  ): Promise<readonly (ListedPlan & { readonly place: PlaceInList })[]>;
  addMovedPlan(moved: NewMovedPlan, acting: Acting): Promise<Made<PlanSummary>>;
  discardPlan(planId: string, acting: Acting): Promise<DiscardOutcome>;
}

export function createPlans(db: Kysely<Tables>): PlanStore {
  return {
    plan: (planId) => storedPlan(db, planId),
    planSummary: (planId) => planSummary(db, planId),

    async checkReport(planId) {
      const row = await db.selectFrom("plans").select("report").where("id", "=", planId).executeTakeFirst();
      return row ? checkReportSchema.parse(row.report) : null;
    },

    async plans({ operationId, state, origin }, limit, after) {
      let query = readPlans(db)
        .select([
          sql<unknown>`p.plan -> 'score'`.as("totals"),
          sql<string>`(extract(epoch from p.created_at) * 1000000)::bigint::text`.as("created"),
        ])
        .where("p.operation_id", "=", operationId)
        .orderBy("p.created_at", "desc")
        .orderBy("p.id", "desc")
        .limit(limit);
      if (state !== undefined) query = query.where(planState, "=", state);
      if (origin !== undefined) query = query.where("p.origin", "=", origin);
      if (after !== null) {
        query = query.where(
          sql<boolean>`(p.created_at, p.id) < (timestamptz 'epoch' + ${after.createdUs}::bigint * interval '1 microsecond', ${after.id}::uuid)`,
        );
      }
      const rows = await query.execute();
      return rows.map(({ totals, created, ...row }) => ({
        ...listedPlanSchema.parse({ ...toldPlan(row), totals }),
        place: { createdUs: created, id: row.id },
      }));
    },

    async addMovedPlan({ parent, plan, report, moves }, acting) {
      const made = await db.transaction().execute((tx) =>
        once(tx, acting, async (id) => {
          await tx
            .insertInto("plans")
            .values({
              id,
              operation_id: parent.operationId,
              version: parent.version,
              origin: "moved",
              parent_id: parent.id,
              plan: json<string>(plan),
              report: json<string>(report),
            })
            .execute();
          await audit(tx, acting, {
            operationId: parent.operationId,
            thingId: id,
            details: { parentId: parent.id, moves },
          });
        }),
      );
      if (made.outcome === "otherCall") return made;
      return { outcome: made.outcome, thing: (await planSummary(db, made.id))! };
    },

    discardPlan: (planId, acting) =>
      db.transaction().execute(async (tx) => {
        // Locked, so that nobody publishes it or makes another of it meanwhile.
        const row = await tx
          .selectFrom("plans")
          .select(["operation_id", "origin", "parent_id"])
          .where("id", "=", planId)
          .forUpdate()
          .executeTakeFirst();
        if (!row) return "unknown";
        if (row.origin !== "moved") return "plannedBySearch";
        const isNamed = async (found: Promise<unknown>) => (await found) !== undefined;
        const published = tx.selectFrom("publications").select("id").where("plan_id", "=", planId).limit(1);
        if (await isNamed(published.executeTakeFirst())) return "published";
        const children = tx.selectFrom("plans").select("id").where("parent_id", "=", planId).limit(1);
        const replans = tx.selectFrom("plan_requests").select("id").where("from_plan_id", "=", planId).limit(1);
        const studies = tx.selectFrom("studies").select("id").where("plan_id", "=", planId).limit(1);
        if (
          (await isNamed(children.executeTakeFirst())) ||
          (await isNamed(replans.executeTakeFirst())) ||
          (await isNamed(studies.executeTakeFirst()))
        ) {
          return "madeFurther";
        }
        await tx.deleteFrom("plans").where("id", "=", planId).execute();
        await audit(tx, acting, {
          operationId: row.operation_id,
          thingId: planId,
          details: { parentId: row.parent_id },
        });
        return "discarded";
      }),
  };
}
