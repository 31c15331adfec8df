import { type Kysely, sql } from "kysely";
import { letters } from "./deadLetters.ts";
import { latestMigration } from "./migrations.ts";
import { unfinished } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface Backlog {
  readonly queue: "plans" | "parts";
  readonly state: (typeof unfinished)[number] | "dead";
  readonly count: number;
}

/** How the store stands, for those who look after it. */
export interface StandingStore {
  /** Throws when the database does not answer; false when its tables are not up to date. */
  isUpToDate(): Promise<boolean>;
  /** Pieces of work that have not ended, and dead letters (deadLetters.ts). */
  backlog(): Promise<Backlog[]>;
  /** Connections of this process. */
  poolUse(): { readonly open: number; readonly idle: number; readonly waiting: number };
}

export function createStanding(db: Kysely<Tables>, poolUse: StandingStore["poolUse"]): StandingStore {
  return {
    async isUpToDate() {
      const { rows } = await sql<{
        name: string;
      }>`select name from kysely_migration where name = ${latestMigration}`.execute(db);
      return rows.length > 0;
    },

    async backlog() {
      const [plans, parts, { rows: dead }] = await Promise.all([
        db
          .selectFrom("plan_requests")
          .select(["status", db.fn.countAll<string>().as("count")])
          .where("status", "in", unfinished)
          .groupBy("status")
          .execute(),
        db
          .selectFrom("study_parts")
          .select(["status", db.fn.countAll<string>().as("count")])
          .where("status", "in", unfinished)
          .groupBy("status")
          .execute(),
        sql<{ kind: string; count: string }>`select kind, count(*) from ${letters} l group by kind`.execute(db),
      ]);
      const counted = (queue: Backlog["queue"], rows: typeof plans) =>
        unfinished.map((state) => ({
          queue,
          state,
          count: Number(rows.find(({ status }) => status === state)?.count ?? 0),
        }));
      const deadOf = (queue: Backlog["queue"]) => ({
        queue,
        state: "dead" as const,
        count: dead
          .filter(({ kind }) => (kind === "plan") === (queue === "plans"))
          .reduce((sum, { count }) => sum + Number(count), 0),
      });
      return [...counted("plans", plans), ...counted("parts", parts), deadOf("plans"), deadOf("parts")];
    },

    poolUse,
  };
}
