import { z } from "zod";
import { lockVersionSchema, planLockAnswerSchema, planLockBodySchema } from "../../../shared/contracts/planLocks.ts";
import type { StoredPlan } from "../../../shared/contracts/plans.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Lock } from "../../../shared/model/locks.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { isOf, withLockOf, withoutLockOf } from "../../../shared/plan/planLocks.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { digestOf } from "../../store/digest.ts";
import { judgeDocument } from "../judgeDocument.ts";
import { askAgain, changedMeanwhile, refuse, unknownThing } from "../problems.ts";
import { type Answer, type ApiParts, answers, type Call, ok, type Route, route } from "../route.ts";
import { planParams } from "./parameters.ts";

/** Locks are the operation's, and hold for whatever is planned of it; here they are made of what a plan says of a crew's day. */
export const planLockRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/plans/{planId}/locks",
    id: "lockCrewDay",
    summary: "Lock a crew's day as a plan has it: a new version of the operation",
    params: planParams,
    query: z.object({}),
    body: { schema: planLockBodySchema, optional: false },
    answers: { 200: answers("It is locked", planLockAnswerSchema) },
    problems: [404, 409, 412, 422, 503],
    async handle(parts, { params, body, call }) {
      const stored = await parts.store.plan(params.planId);
      if (stored === null) return unknownThing("plan");
      const { plan } = stored;
      const crewDay = plan.crewDays.find(({ crewId, date }) => crewId === body.crewId && date === body.date);
      if (crewDay === undefined) return unknownThing("crew-day of this plan");
      const ids = new Set<string>(worksOf(crewDay).map(({ blockId }) => blockId));
      const other = body.blockIds?.find((id) => !ids.has(id));
      if (other !== undefined) return refuse(409, `${other} is not among the stops of that day.`, []);
      const locked = ({ locks, settings }: Operation) =>
        withLockOf(locks, createCalendar(settings), plan, crewDay, body.what, body.blockIds ?? null).locks;
      return changeLocks(parts, stored, locked, body, call);
    },
  }),

  route({
    method: "delete",
    path: "/api/plans/{planId}/locks/{crewId}/{date}",
    id: "unlockCrewDay",
    summary: "Take away what is locked of a crew's day: a new version of the operation",
    params: planParams.extend({ crewId: crewIdSchema, date: localDateSchema }),
    query: z.object({ version: lockVersionSchema }),
    body: null,
    answers: { 200: answers("Nothing is locked of it", planLockAnswerSchema) },
    problems: [404, 412, 422, 503],
    async handle(parts, { params: { planId, crewId, date }, query, call }) {
      const stored = await parts.store.plan(planId);
      if (stored === null) return unknownThing("plan");
      const asked = { crewId, date, version: query.version };
      return changeLocks(parts, stored, ({ locks }) => withoutLockOf(locks, asked), asked, call);
    },
  }),
];

/** The plan is judged once the locks stand: a call that comes again because it was not, changes nothing more. */
async function changeLocks(
  { store, mover }: ApiParts,
  { operationId, plan }: StoredPlan,
  locksOf: (latest: Operation) => readonly Lock[],
  asked: Pick<Lock, "crewId" | "date"> & { readonly version: number },
  { acting }: Call,
): Promise<Answer> {
  const now: { operation: Operation | null } = { operation: null };
  const made = await store.changeOperation<Answer>(
    operationId,
    ({ version, document }) => {
      const locks = locksOf(document);
      const stands = digestOf(locks) === digestOf(document.locks);
      if (!stands && version !== asked.version) return { outcome: "refused", refusal: changedMeanwhile };
      const judged = judgeDocument({ ...document, locks }, null, document.settings.name);
      if (!judged.ok) return { outcome: "refused", refusal: judged.refusal };
      now.operation = judged.operation;
      return { outcome: "changed", document: judged.operation };
    },
    acting,
    { resource: "locks", key: `${asked.crewId}:${asked.date}` },
  );
  if (made.outcome === "refused") return made.refusal;
  if (made.outcome === "unknown" || now.operation === null) return unknownThing("operation");
  const check = await mover.check(now.operation, plan);
  if (check.status !== "answered") return askAgain;
  const lock = now.operation.locks.find(isOf(asked)) ?? null;
  return ok({ operation: made.operation, lock, check: check.answer });
}
