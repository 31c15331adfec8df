import { z } from "zod";
import { type CasesAsk, casePartsOf, fileAsAsked } from "../../../shared/cases/casesStudy.ts";
import { judgeCaseSet } from "../../../shared/cases/judgeCaseSet.ts";
import { seasonCaseFaults } from "../../../shared/cases/readCases.ts";
import { hasEnded, planStatuses } from "../../../shared/contracts/planRequests.ts";
import type { StoredPlan } from "../../../shared/contracts/plans.ts";
import {
  bottlenecksAskSchema,
  casesStudyBodySchema,
  remediesAskSchema,
  type StudyKind,
  studyKeySchema,
  studyKinds,
  studyListSchema,
  toldStudySchema,
} from "../../../shared/contracts/studies.ts";
import { partId, partPiece } from "../../queue/pieces.ts";
import type { NewStudy } from "../../store/studyStore.ts";
import { followEvents } from "../followEvents.ts";
import { faultyCursor, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { otherCall, refuse, shortened, unknownThing } from "../problems.ts";
import { type Answer, type ApiParts, answers, type Call, eventStream, ok, type Route, route } from "../route.ts";
import { caseSetParams, none, operationParams, planParams, studyParams } from "./parameters.ts";

/** Our choice: a larger batch is rather two. */
const mostParts = 5_000;

/** What a search leaves to chance goes under in many weeks: there one seed is enough. */
const seedsOfWeeks = 1;

const queued = { 202: { ...answers("The study is queued", toldStudySchema), locationHeader: true } };

async function begin({ store, runs }: ApiParts, study: NewStudy, { acting }: Call): Promise<Answer> {
  const made = await store.addStudy(study, acting);
  if (made.outcome === "otherCall") return otherCall;
  const added = made.thing;
  await runs.addInTurn((await store.turnsOf(added.id)).map(partPiece));
  return { kind: "body", status: 202, body: added, location: `/api/studies/${added.id}` };
}

/** A plan is studied in one part. */
function beginOfPlan(parts: ApiParts, kind: StudyKind, plan: StoredPlan, ask: object, call: Call): Promise<Answer> {
  const { id: planId, operationId, version } = plan;
  return begin(parts, { kind, operationId, version, planId, ask, parts: [{}] }, call);
}

export const studyRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/case-sets/{caseSetId}/studies",
    id: "studyCases",
    summary: "Plan the latest version of a set of cases for the latest version of its operation and compare the cases",
    params: caseSetParams,
    query: none,
    once: true,
    body: { schema: casesStudyBodySchema, optional: true },
    answers: queued,
    problems: [404, 422],
    async handle(parts, { params, body, call }) {
      const caseSet = await parts.store.latestCaseSet(params.caseSetId);
      if (!caseSet) return unknownThing("set of cases");
      const operation = (await parts.store.latestOperation(caseSet.operationId))!;
      // The operation may have changed since the set was stored.
      const judged = judgeCaseSet(caseSet.document, operation.document);
      if (!judged.ok) {
        return refuse(422, "The set does not fit the operation's latest version.", judged.faults.map(shortened));
      }
      const { cases, season } = judged.document;
      const { iterations, weeks } = body;
      if (weeks !== undefined && season === undefined) {
        const fault = { path: ["weeks"], value: weeks, expected: "nothing, as the set has no season to sample from" };
        return refuse(422, "The set has no season.", [fault]);
      }
      const notSampled = weeks === undefined ? [] : seasonCaseFaults(cases);
      if (notSampled.length > 0) {
        const faults = notSampled.map((fault) => shortened({ ...fault, path: ["cases", ...fault.path] }));
        return refuse(422, "Not all of these cases can be planned in a sampled week.", faults);
      }
      const ask: CasesAsk = {
        budget: iterations === undefined ? cases.budget : { iterations },
        seeds: body.seeds ?? (weeks === undefined ? cases.seeds : seedsOfWeeks),
        weeks: weeks ?? null,
      };
      const asked = casePartsOf(operation.document, fileAsAsked(cases, ask), ask);
      if (asked.length > mostParts) {
        const fault = { path: [], value: asked.length, expected: `at most ${mostParts} cases times weeks` };
        return refuse(422, "Too much for one study.", [fault]);
      }
      const { id, version } = caseSet;
      return begin(
        parts,
        {
          kind: "cases",
          operationId: operation.id,
          version: operation.version,
          caseSet: { id, version },
          ask,
          parts: asked,
        },
        call,
      );
    },
  }),

  route({
    method: "post",
    path: "/api/plans/{planId}/remedies",
    id: "studyRemedies",
    summary: "What would help the orders that a plan leaves out, each change tried by planning again with it",
    params: planParams,
    query: none,
    once: true,
    body: { schema: remediesAskSchema, optional: true },
    answers: queued,
    problems: [404, 422],
    async handle(parts, { params, body, call }) {
      const plan = await parts.store.plan(params.planId);
      if (!plan) return unknownThing("plan");
      const { document } = (await parts.store.operationVersion(plan.operationId, plan.version))!;
      if (body.orderId !== undefined && document.orders.every(({ id }) => id !== body.orderId)) {
        const fault = { path: ["orderId"], value: body.orderId, expected: "an order of the plan's operation" };
        return refuse(422, "Faulty body.", [fault]);
      }
      return beginOfPlan(parts, "remedies", plan, body, call);
    },
  }),

  route({
    method: "post",
    path: "/api/plans/{planId}/bottlenecks",
    id: "studyBottlenecks",
    summary: "What a plan uses, what one more of each thing would bring, and what it brings when planned again with",
    params: planParams,
    query: none,
    once: true,
    body: { schema: bottlenecksAskSchema, optional: true },
    answers: queued,
    problems: [404, 422],
    async handle(parts, { params, body, call }) {
      const plan = await parts.store.plan(params.planId);
      return plan ? beginOfPlan(parts, "bottlenecks", plan, body, call) : unknownThing("plan");
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/studies",
    id: "listStudies",
    summary: "Studies of an operation, newest first, without their results",
    params: operationParams,
    query: pageQuery.extend({
      status: z.enum(planStatuses).optional().describe("those of this status"),
      kind: z.enum(studyKinds).optional().describe("those of this kind"),
    }),
    body: null,
    answers: { 200: answers("The studies", studyListSchema) },
    problems: [],
    async handle({ store }, { params, query }) {
      const stretch = stretchOf(query, studyKeySchema);
      if (!stretch) return faultyCursor;
      const asked = { ...stretch, status: query.status ?? null, kind: query.kind ?? null };
      const { entries, next } = pageOf(query, await store.studiesOf(params.operationId, asked), ({ id }) => id);
      return ok({ studies: entries, next });
    },
  }),

  route({
    method: "get",
    path: "/api/studies/{studyId}",
    id: "study",
    summary: "How a study stands, and what came of it",
    params: studyParams,
    query: none,
    body: null,
    answers: { 200: answers("The study", toldStudySchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const study = await store.study(params.studyId);
      return study ? ok(study) : unknownThing("study");
    },
  }),

  route({
    method: "get",
    path: "/api/studies/{studyId}/events",
    id: "studyEvents",
    summary: "Follow a study: `progress` events with the progress, then one `done` event with the study",
    params: studyParams,
    query: none,
    body: null,
    answers: { 200: eventStream },
    problems: [404],
    async handle({ store, onError }, { params: { studyId } }) {
      if (!(await store.study(studyId))) return unknownThing("study");
      return { kind: "events", source: followEvents(store, studyId, () => store.study(studyId), onError) };
    },
  }),

  route({
    method: "post",
    path: "/api/studies/{studyId}/cancel",
    id: "cancelStudy",
    summary: "Cancel a study; one that runs comes to an end soon after, without a result",
    params: studyParams,
    query: none,
    body: null,
    answers: {
      200: answers("The study has ended", toldStudySchema),
      202: answers("The study is being stopped", toldStudySchema),
    },
    problems: [404],
    async handle({ store, runs }, { params, call }) {
      const cancelled = await store.cancelStudy(params.studyId, call.acting);
      if (!cancelled) return unknownThing("study");
      const { study, running } = cancelled;
      for (const key of running) await runs.cancel(partId(key));
      return { kind: "body", status: hasEnded(study.status) ? 200 : 202, body: study };
    },
  }),
];
