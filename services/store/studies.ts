import type { Kysely, Transaction } from "kysely";
import { batchKinds, studySchema } from "../../shared/contracts/studies.ts";
import { audit } from "./audit.ts";
import { once } from "./once.ts";
import { asWritten, json, now, unfinished } from "./sqlWords.ts";
import { createStudyParts } from "./studyParts.ts";
import { allPartsHaveEnded, announceStudy, endCancelled, lockStudy, readStudies, studyInput } from "./studyRows.ts";
import type { EndedPart, StudyStore } from "./studyStore.ts";
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
    ...createStudyParts(db),

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

    async cancelStudy(studyId, acting) {
      const running = await db.transaction().execute(async (tx) => {
        const open = await lockStudy(tx, studyId);
        if (!open) return [];
        if (!open.cancel_wanted) await audit(tx, acting, { operationId: open.operation_id, thingId: studyId });
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
