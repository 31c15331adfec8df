import { type ExpressionBuilder, type Kysely, sql, type Transaction } from "kysely";
import { batchKinds, studySchema } from "../../shared/contracts/studies.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import { asWritten, json, now, unfinished } from "./sqlWords.ts";
import { startsMax } from "./store.ts";
import { announceStudy, lockStudy, readStudies, studyInput } from "./studyRows.ts";
import type { EndedPart, PartKey, StudyStore } from "./studyStore.ts";
import type { Tables } from "./tables.ts";
import { firstTurn } from "./turns.ts";

/** Rows for one insert: Postgres takes 65,535 values in a statement. */
const rowsAtOnce = 5_000;

/** Every change of a study or its parts first takes the lock of the study's row, so that changes of one study follow each other. */
export function createStudies(db: Kysely<Tables>): StudyStore {
  const readStudy = async (studyId: string) => {
    const [summary] = await readStudies(db, "s.id", studyId);
    if (!summary) return null;
    const { result } = await db
      .selectFrom("studies")
      .select("result")
      .where("id", "=", studyId)
      .executeTakeFirstOrThrow();
    return studySchema.parse({ ...summary, result });
  };

  return {
    async addStudy({ kind, operationId, version, planId, caseSet, ask, parts }, acting) {
      const made = await db.transaction().execute((tx) =>
        once(tx, acting, async (id) => {
          await tx
            .insertInto("studies")
            .values({
              id,
              kind,
              operation_id: operationId,
              version,
              plan_id: planId ?? null,
              case_set_id: caseSet?.id ?? null,
              case_set_version: caseSet?.version ?? null,
              ask: json<string>(ask),
            })
            .execute();
          const turn = batchKinds.includes(kind) ? await nextTurn(tx) : 0;
          const rows = parts.map((partAsk, part) => ({
            study_id: id,
            part,
            turn: turn === 0 ? 0 : turn + part,
            ask: json<string>(partAsk),
          }));
          for (let from = 0; from < rows.length; from += rowsAtOnce)
            await tx
              .insertInto("study_parts")
              .values(rows.slice(from, from + rowsAtOnce))
              .execute();
          await audit(tx, acting, { operationId, thingId: id, details: { kind, version, parts: parts.length } });
        }),
      );
      return made.outcome === "otherCall" ? made : { outcome: made.outcome, thing: (await readStudy(made.id))! };
    },

    study: readStudy,

    studiesOf: (operationId, asked) => readStudies(db, "s.operation_id", operationId, asked),

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
        .orderBy("part")
        .execute();
      return rows.map(({ study_id, part, turn }) => ({ studyId: study_id, part, turn }));
    },

    startPart: (key) =>
      db.transaction().execute(async (tx) => {
        const study = await lockStudy(tx, key.studyId);
        if (!study) return { status: "skip" };
        const started = study.cancel_wanted
          ? undefined
          : await thePart(tx, key)
              .set((eb) => ({ status: "running" as const, starts: eb("starts", "+", 1), share: 0, started_at: now }))
              .where("starts", "<", startsMax)
              .returning("ask")
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
        return { status: "go", input: await studyInput(tx, study), partAsk: started.ask };
      }),

    async reportPart(key, share) {
      const row = await db
        .updateTable("study_parts as p")
        .from("studies as s")
        .whereRef("s.id", "=", "p.study_id")
        .set({ share })
        .where("p.study_id", "=", key.studyId)
        .where("p.part", "=", key.part)
        .where("p.status", "=", "running")
        .returning("s.cancel_wanted")
        .executeTakeFirst();
      await announceStudy(db, key.studyId);
      return { shouldStop: row?.cancel_wanted ?? true };
    },

    returnPart: (key) =>
      db.transaction().execute(async (tx) => {
        await lockStudy(tx, key.studyId);
        // A clean shutdown is not the part's fault, so this start does not count.
        await thePart(tx, key)
          .set((eb) => ({ status: "queued" as const, starts: eb("starts", "-", 1), share: 0, started_at: null }))
          .where("status", "=", "running")
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

    async cancelStudy(studyId) {
      const running = await db.transaction().execute(async (tx) => {
        if (!(await lockStudy(tx, studyId))) return [];
        await tx.updateTable("studies").set({ cancel_wanted: true }).where("id", "=", studyId).execute();
        await tx
          .updateTable("study_parts")
          .set({ status: "cancelled", ended_at: now })
          .where("study_id", "=", studyId)
          .where("status", "=", "queued")
          .execute();
        await endCancelled(tx, studyId);
        await announceStudy(tx, studyId);
        return tx
          .selectFrom("study_parts")
          .select("part")
          .where("study_id", "=", studyId)
          .where("status", "=", "running")
          .execute();
      });
      const study = await readStudy(studyId);
      return study && { study, running: running.map(({ part }) => ({ studyId, part })) };
    },

    async studiesToConclude() {
      const rows = await db
        .selectFrom("studies as s")
        .select("s.id")
        .where("s.status", "in", unfinished)
        .where(allPartsHaveEnded)
        .execute();
      return rows.map(({ id }) => id);
    },

    async studyToConclude(studyId) {
      const study = await db
        .selectFrom("studies as s")
        .selectAll()
        .where("s.id", "=", studyId)
        .where("s.status", "in", unfinished)
        .where("s.cancel_wanted", "=", false)
        .where(allPartsHaveEnded)
        .executeTakeFirst();
      if (!study) return null;
      const rows = await db
        .selectFrom("study_parts")
        .select(["ask", "status", "result", "failure"])
        .where("study_id", "=", studyId)
        .orderBy("part")
        .execute();
      const parts = rows.map(
        ({ ask, status, result, failure }): EndedPart =>
          status === "done" ? { ask, status, result } : { ask, status: "failed", failure: failure! },
      );
      return { input: await studyInput(db, study), parts };
    },

    concludeStudy: (studyId, outcome) =>
      db.transaction().execute(async (tx) => {
        const study = await lockStudy(tx, studyId);
        if (!study || study.cancel_wanted) return false;
        await tx
          .updateTable("studies")
          .set({
            status: outcome.status,
            result: outcome.status === "done" ? asWritten(outcome.result) : null,
            failure: outcome.status === "failed" ? json(outcome.failure) : null,
            ended_at: now,
          })
          .where("id", "=", studyId)
          .execute();
        await announceStudy(tx, studyId);
        return true;
      }),
  };
}

/** Of a batch that comes now. Two that come at the same moment may get the same: then they share from there. */
async function nextTurn(tx: Transaction<Tables>): Promise<number> {
  const turns = await tx
    .selectFrom("study_parts")
    .select(({ fn }) => [
      fn.min("turn").filterWhere("status", "=", "queued").as("leastWaiting"),
      fn.max("turn").filterWhere("status", "=", "running").as("mostRunning"),
    ])
    .where("status", "in", unfinished)
    .where("turn", ">", 0)
    .executeTakeFirstOrThrow();
  return firstTurn(turns);
}

const allPartsHaveEnded = ({ not, exists, selectFrom }: ExpressionBuilder<Tables & { s: Tables["studies"] }, "s">) =>
  not(
    exists(
      selectFrom("study_parts as p")
        .select("p.part")
        .whereRef("p.study_id", "=", "s.id")
        .where("p.status", "in", unfinished),
    ),
  );

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

/** A study that is to be cancelled has ended when none of its parts runs any more. */
async function endCancelled(tx: Transaction<Tables>, studyId: string): Promise<void> {
  await tx
    .updateTable("studies as s")
    .set({ status: "cancelled", ended_at: now })
    .where("s.id", "=", studyId)
    .where("s.cancel_wanted", "=", true)
    .where(allPartsHaveEnded)
    .execute();
}
