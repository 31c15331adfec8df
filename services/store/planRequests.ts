import { type ExpressionBuilder, type Kysely, sql } from "kysely";
import { audit } from "./audit.ts";
import { changeChannel } from "./changeFeed.ts";
import { once } from "./once.ts";
import { operationNamed } from "./operationVersions.ts";
import { storedPlan } from "./planRows.ts";
import { toPlanRequest } from "./rows.ts";
import { heard, isAlive, json, now, unfinished } from "./sqlWords.ts";
import { startsMax } from "./starts.ts";
import type { PlanBudget, Store } from "./store.ts";
import { everything, olderThan } from "./stretch.ts";
import type { Tables } from "./tables.ts";

type PlanRequestStore = Pick<
  Store,
  | "addPlanRequest"
  | "planRequest"
  | "planRequestsOf"
  | "unfinishedRequests"
  | "startRequest"
  | "reportProgress"
  | "returnRequest"
  | "requestCancel"
  | "finishRequest"
>;

export function createPlanRequests(db: Kysely<Tables>): PlanRequestStore {
  const requests = () =>
    db
      .selectFrom("plan_requests as r")
      .leftJoin("plans as p", "p.request_id", "r.id")
      .selectAll("r")
      .select("p.id as plan_id");
  const readRequest = async (requestId: string) => {
    const row = await requests().where("r.id", "=", requestId).executeTakeFirst();
    return row ? toPlanRequest(row) : null;
  };

  return {
    async addPlanRequest({ operationId, version, budget, seed }, acting) {
      const made = await db.transaction().execute((tx) =>
        once(tx, acting, async (id) => {
          await tx
            .insertInto("plan_requests")
            .values({
              id,
              operation_id: operationId,
              version,
              seconds: "seconds" in budget ? budget.seconds : null,
              iterations: "iterations" in budget ? budget.iterations : null,
              seed,
            })
            .execute();
          await audit(tx, acting, { operationId, thingId: id, details: { version, ...budget, seed } });
        }),
      );
      return made.outcome === "otherCall" ? made : { outcome: made.outcome, thing: (await readRequest(made.id))! };
    },

    planRequest: readRequest,

    async planRequestsOf(operationId, { most, after, status } = { ...everything, status: null }) {
      const rows = await requests()
        .where("r.operation_id", "=", operationId)
        .$if(after !== null, (query) => query.where(olderThan("plan_requests", "r", after!)))
        .$if(status !== null, (query) => query.where("r.status", "=", status!))
        .orderBy("r.created_at", "desc")
        .orderBy("r.id", "desc")
        .limit(most)
        .execute();
      return rows.map(toPlanRequest);
    },

    unfinishedRequests: () =>
      db
        .selectFrom("plan_requests")
        .select(["id", "kind"])
        .where("status", "in", unfinished)
        .orderBy("created_at")
        .execute(),

    async startRequest(requestId) {
      const alive = await db
        .selectFrom("plan_requests")
        .select("id")
        .where("id", "=", requestId)
        .where(isAlive)
        .executeTakeFirst();
      if (alive) return { status: "busy" };
      const row = await db
        .updateTable("plan_requests")
        .set((eb) => ({
          status: "running" as const,
          starts: eb("starts", "+", 1),
          started_at: now,
          reported_at: now,
          progress: null,
        }))
        .where("id", "=", requestId)
        .where("status", "in", unfinished)
        .where(({ not }) => not(isAlive))
        .where("cancel_wanted", "=", false)
        .where("starts", "<", startsMax)
        .returning([
          "operation_id",
          "version",
          "seconds",
          "iterations",
          "seed",
          "starts",
          "alone",
          "from_plan_id",
          announced,
        ])
        .executeTakeFirst();
      if (!row) {
        await endWithoutStart(db, requestId);
        return { status: "skip" };
      }
      const budget: PlanBudget = row.seconds === null ? { iterations: row.iterations! } : { seconds: row.seconds };
      const { starts: start, alone } = row;
      const from = row.from_plan_id === null ? null : ((await storedPlan(db, row.from_plan_id))?.plan ?? null);
      const operation = await operationNamed(db, row);
      return { status: "go", start, alone, operation, budget, seed: Number(row.seed), from };
    },

    async reportProgress(requestId, start, progress) {
      const row = await db
        .updateTable("plan_requests")
        .set({ reported_at: now, ...(progress === null ? {} : { progress: json(progress) }) })
        .where("id", "=", requestId)
        .where("status", "=", "running")
        .where("starts", "=", start)
        .returning(["cancel_wanted", announced])
        .executeTakeFirst();
      return heard(row);
    },

    async returnRequest(requestId, { start, startCounts, alone }) {
      await db
        .updateTable("plan_requests")
        .set((eb) => ({
          status: "queued" as const,
          progress: null,
          starts: eb("starts", "-", startCounts ? 0 : 1),
          alone,
        }))
        .where("id", "=", requestId)
        .where("status", "=", "running")
        .where("starts", "=", start)
        .returning(announced)
        .execute();
    },

    async requestCancel(requestId, acting) {
      await db.transaction().execute(async (tx) => {
        const cancelled = await tx
          .updateTable("plan_requests")
          .set({
            cancel_wanted: true,
            status: sql`case when status = 'queued' then 'cancelled' else status end`,
            ended_at: sql`case when status = 'queued' then now() else ended_at end`,
          })
          .where("id", "=", requestId)
          .where("status", "in", unfinished)
          .where("cancel_wanted", "=", false)
          .returning(["operation_id", announced])
          .executeTakeFirst();
        if (cancelled) await audit(tx, acting, { operationId: cancelled.operation_id, thingId: requestId });
      });
      return readRequest(requestId);
    },

    async finishRequest(requestId, outcome) {
      return db.transaction().execute(async (tx) => {
        // Of two workers that end the same request the second finds no unfinished row and writes nothing.
        const ended = await tx
          .updateTable("plan_requests")
          .set({
            status: outcome.status,
            failure: outcome.status === "failed" ? json(outcome.failure) : null,
            ended_at: now,
          })
          .where("id", "=", requestId)
          .where("status", "in", unfinished)
          .returning(["operation_id", "version", "kind", announced])
          .executeTakeFirst();
        if (!ended) return false;
        const made = outcome.status === "done" ? outcome : outcome.status === "cancelled" ? outcome.best : null;
        if (made) {
          await tx
            .insertInto("plans")
            .values({
              id: requestId,
              request_id: requestId,
              operation_id: ended.operation_id,
              version: ended.version,
              origin: ended.kind === "replan" ? "replanned" : "planned",
              plan: json<string>(made.plan),
              report: json<string>(made.report),
            })
            .execute();
        }
        return true;
      });
    },
  };
}

/** Told to the change feed when the change is committed. */
const announced = (_: ExpressionBuilder<Tables, "plan_requests">) =>
  sql<string>`pg_notify(${changeChannel}, plan_requests.id::text)`.as("announced");

/** A request that may not be started and has not ended: somebody wants it cancelled, or it was started too often. */
async function endWithoutStart(db: Kysely<Tables>, requestId: string): Promise<void> {
  await db
    .updateTable("plan_requests")
    .set({ status: "cancelled", ended_at: now })
    .where("id", "=", requestId)
    .where("status", "in", unfinished)
    .where("cancel_wanted", "=", true)
    .returning(announced)
    .execute();
  const failure = {
    kind: "startedTooOften",
    message: `Planning was started ${startsMax} times and never came to an end.`,
    breaches: [],
  };
  await db
    .updateTable("plan_requests")
    .set({ status: "failed", failure: json(failure), ended_at: now })
    .where("id", "=", requestId)
    .where("status", "in", unfinished)
    .where("starts", ">=", startsMax)
    .returning(announced)
    .execute();
}
