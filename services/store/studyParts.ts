import { type Kysely, sql, type Transaction } from "kysely";
import { asWritten, heard, isAlive, json, now, unfinished } from "./sqlWords.ts";
import { startsMax } from "./starts.ts";
import { announceStudy, endCancelled, lockStudy, studyInput } from "./studyRows.ts";
import type { PartKey, StudyStore } from "./studyStore.ts";
import type { Tables } from "./tables.ts";

type PartStore = Pick<
  StudyStore,
  "unfinishedParts" | "turnsOf" | "startPart" | "reportPart" | "returnPart" | "finishPart"
>;

/** How parts are worked. */
export function createStudyParts(db: Kysely<Tables>): PartStore {
  return {
    async unfinishedParts(most) {
      const rows = await db
        .selectFrom("study_parts as p")
        .innerJoin("studies as s", "s.id", "p.study_id")
        .select(["p.study_id", "p.part", "p.turn"])
        .where("p.status", "in", unfinished)
        .orderBy("p.turn")
        .orderBy("s.created_at")
        .orderBy("p.study_id")
        .orderBy("p.part")
        .limit(most)
        .execute();
      return rows.map(({ study_id, part, turn }) => ({ studyId: study_id, part, turn }));
    },

    async turnsOf(studyId) {
      const rows = await db
        .selectFrom("study_parts")
        .select(["study_id", "part", "turn"])
        .where("study_id", "=", studyId)
        .where("status", "in", unfinished)
        .orderBy("part")
        .execute();
      return rows.map(({ study_id, part, turn }) => ({ studyId: study_id, part, turn }));
    },

    startPart: (key) =>
      db.transaction().execute(async (tx) => {
        const study = await lockStudy(tx, key.studyId);
        if (!study) return { status: "skip" };
        const alive = await tx
          .selectFrom("study_parts")
          .select("part")
          .where("study_id", "=", key.studyId)
          .where("part", "=", key.part)
          .where(isAlive)
          .executeTakeFirst();
        if (alive) return { status: "busy" };
        const started = study.cancel_wanted
          ? undefined
          : await thePart(tx, key)
              .set((eb) => ({
                status: "running" as const,
                starts: eb("starts", "+", 1),
                share: 0,
                started_at: now,
                reported_at: now,
              }))
              .where("starts", "<", startsMax)
              .returning(["ask", "starts", "alone"])
              .executeTakeFirst();
        if (!started) {
          await endWithoutStart(tx, key, study.cancel_wanted);
          return { status: "skip" };
        }
        await tx
          .updateTable("studies")
          .set({ status: "running", started_at: sql`coalesce(started_at, now())` })
          .where("id", "=", key.studyId)
          .execute();
        await announceStudy(tx, key.studyId);
        const { ask: partAsk, starts: start, alone } = started;
        return { status: "go", start, alone, input: await studyInput(tx, study), partAsk };
      }),

    async reportPart(key, start, share) {
      const row = await db
        .updateTable("study_parts as p")
        .from("studies as s")
        .whereRef("s.id", "=", "p.study_id")
        .set({ share, reported_at: now })
        .where("p.study_id", "=", key.studyId)
        .where("p.part", "=", key.part)
        .where("p.status", "=", "running")
        .where("p.starts", "=", start)
        .returning("s.cancel_wanted")
        .executeTakeFirst();
      await announceStudy(db, key.studyId);
      return heard(row);
    },

    returnPart: (key, { start, startCounts, alone }) =>
      db.transaction().execute(async (tx) => {
        await lockStudy(tx, key.studyId);
        await thePart(tx, key)
          .set((eb) => ({
            status: "queued" as const,
            starts: eb("starts", "-", startCounts ? 0 : 1),
            alone,
            share: 0,
            started_at: null,
          }))
          .where("status", "=", "running")
          .where("starts", "=", start)
          .execute();
        await announceStudy(tx, key.studyId);
      }),

    finishPart: (key, outcome) =>
      db.transaction().execute(async (tx) => {
        if (!(await lockStudy(tx, key.studyId))) return false;
        // Of two workers that end the same part the second finds no unfinished row and writes nothing.
        const ended = await thePart(tx, key)
          .set({
            status: outcome.status,
            result: outcome.status === "done" ? asWritten(outcome.result) : null,
            failure: outcome.status === "failed" ? json(outcome.failure) : null,
            ended_at: now,
          })
          .returning("part")
          .executeTakeFirst();
        if (!ended) return false;
        await endCancelled(tx, key.studyId);
        await announceStudy(tx, key.studyId);
        return true;
      }),
  };
}

const thePart = (tx: Transaction<Tables>, { studyId, part }: PartKey) =>
  tx
    .updateTable("study_parts")
    .where("study_id", "=", studyId)
    .where("part", "=", part)
    .where("status", "in", unfinished);

/** A part that may not be started and has not ended: its study is to be cancelled, or it was started too often. */
async function endWithoutStart(tx: Transaction<Tables>, key: PartKey, cancelWanted: boolean): Promise<void> {
  const failure = {
    kind: "startedTooOften" as const,
    message: `This run was started ${startsMax} times and never came to an end.`,
  };
  await thePart(tx, key)
    .set(
      cancelWanted
        ? { status: "cancelled", ended_at: now }
        : { status: "failed", failure: json(failure), ended_at: now },
    )
    .execute();
  await endCancelled(tx, key.studyId);
  await announceStudy(tx, key.studyId);
}
