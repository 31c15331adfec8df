import { type Kysely, sql } from "kysely";
import { type ReplanFacts, replanFactsSchema } from "../../shared/contracts/replans.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Told } from "../../shared/replan/ask.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { addVersion } from "./newVersion.ts";
import { once } from "./once.ts";
import { operationNamed } from "./operationVersions.ts";
import { storedPlan } from "./planRows.ts";
import { json } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface NewReplan {
  readonly operationId: string;
  /** What is to be planned again, derived of the latest version. */
  readonly operation: Operation;
  readonly fromPlanId: string;
  readonly budget: { readonly seconds: number } | { readonly iterations: number };
  readonly seed: number;
  readonly facts: ReplanFacts;
}

export type ReplanOutcome =
  | { readonly outcome: "made" | "again"; readonly requestId: string }
  | { readonly outcome: "otherCall" };

export interface ReplanStore {
  /** Stores the derived version and asks for its plan. */
  addReplan(replan: NewReplan, acting: Acting): Promise<ReplanOutcome>;
  /** Plans that crews were told, the first first, each once at its last time, with their operations; progress is left to whoever knows it. */
  toldPlans(operationId: string): Promise<(Omit<Told, "progress"> & { readonly planId: string })[]>;
  /** What was known when a plan was asked for anew; null where it was not. */
  replanFacts(planId: string): Promise<{ readonly fromPlanId: string; readonly facts: ReplanFacts } | null>;
}

export function createReplans(db: Kysely<Tables>): ReplanStore {
  return {
    async addReplan({ operationId, operation, fromPlanId, budget, seed, facts }, acting) {
      const made = await db.transaction().execute((tx) =>
        once(tx, acting, async (id) => {
          // The row's lock makes versions follow each other.
          const row = await tx
            .selectFrom("operations")
            .select(["id", "name"])
            .where("id", "=", operationId)
            .forUpdate()
            .executeTakeFirstOrThrow();
          const derived = await addVersion(tx, { operation: row, document: operation, derived: true }, undefined);
          const { version } = derived.operation;
          await tx
            .insertInto("plan_requests")
            .values({
              id,
              operation_id: operationId,
              version,
              kind: "replan",
              from_plan_id: fromPlanId,
              ask: json<string>(facts),
              seconds: "seconds" in budget ? budget.seconds : null,
              iterations: "iterations" in budget ? budget.iterations : null,
              seed,
            })
            .execute();
          const { asOf, keepUntil, changeCost } = facts;
          await audit(tx, acting, {
            operationId,
            thingId: id,
            details: { version, fromPlanId, asOf, keepUntil, changeCost, ...budget, seed },
          });
        }),
      );
      return made.outcome === "otherCall" ? made : { outcome: made.outcome, requestId: made.id };
    },

    async toldPlans(operationId) {
      const rows = await db
        .selectFrom("publications as q")
        .innerJoin("plans as p", "p.id", "q.plan_id")
        .select(["p.id", "p.operation_id", "p.version", sql<number>`max(q.number)`.as("last")])
        .where("q.operation_id", "=", operationId)
        .groupBy(["p.id", "p.operation_id", "p.version"])
        .orderBy("last")
        .execute();
      return Promise.all(
        rows.map(async (row) => ({
          planId: row.id,
          plan: (await storedPlan(db, row.id))!.plan,
          operation: await operationNamed(db, row),
        })),
      );
    },

    async replanFacts(planId) {
      const row = await db
        .selectFrom("plan_requests")
        .select(["from_plan_id", "ask"])
        .where("id", "=", planId)
        .where("kind", "=", "replan")
        .executeTakeFirst();
      if (!row || row.from_plan_id === null) return null;
      return { fromPlanId: row.from_plan_id, facts: replanFactsSchema.parse(row.ask) };
    },
  };
}
