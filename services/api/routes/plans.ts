import { z } from "zod";
import { calmViewSchema } from "../../../shared/contracts/calm.ts";
import { operationKeySchema } from "../../../shared/contracts/operations.ts";
import {
  checkReportSchema,
  conflictListSchema,
  planListSchema,
  planOrigins,
  planStates,
  storedPlanSchema,
} from "../../../shared/contracts/plans.ts";
import { crewSheetSchema, weekViewSchema } from "../../../shared/contracts/views.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import type { DiscardOutcome } from "../../store/plans.ts";
import { cursorOf, faultyCursor, pageQuery, placeOf } from "../paging.ts";
import { planBytes, viewOfPlan } from "../planViews.ts";
import { beingMade, changedMeanwhile, refuse, unknownThing } from "../problems.ts";
import { type Answer, answers, ok, type Route, route, taggedAnswers } from "../route.ts";
import { gzipSuffix } from "../send.ts";
import { jsonOf, type Viewing } from "../viewCache.ts";
import { none, planParams } from "./parameters.ts";

const placeSchema = z.strictObject({ createdUs: z.string().regex(/^\d{1,16}$/), id: z.uuid() });

export function viewOr(view: Viewing, what: string): Answer {
  if (view === "busy") return beingMade;
  return view === null ? unknownThing(what) : { kind: "view", view };
}

const whyNotDiscarded: Readonly<Record<Exclude<DiscardOutcome, "discarded" | "unknown">, string>> = {
  plannedBySearch: "Only plans that were made by hand are discarded: this one is what a plan request came to.",
  published: "Crews have been told this plan; it stays on record.",
  madeFurther: "Another plan or a study was made of this one.",
};

export const planRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/plans",
    id: "listPlans",
    summary: "Plans of an operation, newest first",
    params: none,
    query: pageQuery.extend({
      operationId: operationKeySchema,
      state: z.enum(planStates).optional(),
      origin: z.enum(planOrigins).optional(),
    }),
    body: null,
    answers: { 200: answers("The plans", planListSchema) },
    problems: [],
    async handle({ store }, { query: { limit, cursor, ...filter } }) {
      const after = cursor === undefined ? null : placeOf(placeSchema, cursor);
      if (after === undefined) return faultyCursor;
      const found = await store.plans(filter, limit + 1, after);
      const page = found.slice(0, limit);
      const next = found.length > limit ? cursorOf(page.at(-1)!.place) : null;
      return ok({ plans: page.map(({ place: _, ...plan }) => plan), next });
    },
  }),

  route({
    method: "delete",
    path: "/api/plans/{planId}",
    id: "discardPlan",
    summary: "Discard a plan that was made by hand, never published, and of which nothing else was made",
    params: planParams,
    query: none,
    precondition: true,
    body: null,
    answers: { 204: answers("It is gone", z.undefined()) },
    problems: [404, 409],
    async handle(parts, { params, call }) {
      const view = await planBytes(parts, params.planId);
      if (view === null) return unknownThing("plan");
      if (view === "busy") return beingMade;
      const { precondition } = call;
      const isKnown =
        precondition?.kind === "ifMatch" &&
        precondition.etags.some((etag) => etag === view.etag || etag === view.etag + gzipSuffix);
      if (!isKnown) return changedMeanwhile;
      const outcome = await parts.store.discardPlan(params.planId, call.acting);
      if (outcome === "discarded") return { kind: "empty" };
      return outcome === "unknown" ? unknownThing("plan") : refuse(409, whyNotDiscarded[outcome], []);
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}",
    id: "plan",
    summary: "A whole plan",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The plan", storedPlanSchema) },
    problems: [404],
    handle: async (parts, { params }) => viewOr(await planBytes(parts, params.planId), "plan"),
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/week",
    id: "week",
    summary: "The week as the dispatcher sees it",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The week", weekViewSchema) },
    problems: [404],
    handle: async (parts, { params }) => viewOr(await viewOfPlan(parts, params.planId, { kind: "week" }), "plan"),
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/calm",
    id: "calm",
    summary: "How many hectares of the plan's orders may be worked in each hour of the week, and what closes the rest",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The calm hours", calmViewSchema) },
    problems: [404],
    handle: async (parts, { params }) => viewOr(await viewOfPlan(parts, params.planId, { kind: "calm" }), "plan"),
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/conflicts",
    id: "conflicts",
    summary: "What is not planned, and why",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The conflicts", conflictListSchema) },
    problems: [404],
    async handle({ store, views }, { params }) {
      const view = await views.get(`conflicts ${params.planId}`, async () => {
        const stored = await store.plan(params.planId);
        return stored && jsonOf(conflictListSchema.parse({ conflicts: stored.plan.conflicts }));
      });
      return viewOr(view, "plan");
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/check",
    id: "check",
    summary: "What the independent checker found",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: answers("The checker's report", checkReportSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const report = await store.checkReport(params.planId);
      return report ? ok(report) : unknownThing("plan");
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/crews/{crewId}/days/{date}",
    id: "crewSheet",
    summary: "A crew's day as its lead needs it",
    params: planParams.extend({ crewId: crewIdSchema, date: localDateSchema }),
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The crew sheet", crewSheetSchema) },
    problems: [404],
    handle: async (parts, { params: { planId, crewId, date } }) =>
      viewOr(await viewOfPlan(parts, planId, { kind: "sheet", crewId, date, publication: null }), "crew-day"),
  }),
];
