import { checkReportSchema, conflictListSchema, storedPlanSchema } from "../../../shared/contracts/plans.ts";
import { crewSheetSchema, weekViewSchema } from "../../../shared/contracts/views.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import type { Store } from "../../store/store.ts";
import { unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none, planParams } from "./parameters.ts";

async function planWithOperation(store: Store, planId: string) {
  const stored = await store.plan(planId);
  if (!stored) return null;
  const version = await store.operationVersion(stored.operationId, stored.version);
  if (!version) throw new Error(`plan ${planId} has lost its operation`);
  return { plan: stored.plan, operation: version.document };
}

export const planRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/plans/{planId}",
    id: "plan",
    summary: "A whole plan",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: answers("The plan", storedPlanSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const stored = await store.plan(params.planId);
      return stored ? ok(stored) : unknownThing("plan");
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/week",
    id: "week",
    summary: "The week as the dispatcher sees it",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: answers("The week", weekViewSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await planWithOperation(store, params.planId);
      const report = await store.checkReport(params.planId);
      return found && report ? ok(weekView(found.operation, found.plan, report)) : unknownThing("plan");
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/conflicts",
    id: "conflicts",
    summary: "What is not planned, and why",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: answers("The conflicts", conflictListSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const stored = await store.plan(params.planId);
      return stored ? ok({ conflicts: stored.plan.conflicts }) : unknownThing("plan");
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
    answers: { 200: answers("The crew sheet", crewSheetSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await planWithOperation(store, params.planId);
      if (!found) return unknownThing("plan");
      const sheet = crewSheet(found.operation, found.plan, params.crewId, params.date);
      return sheet ? ok(sheet) : unknownThing("crew-day");
    },
  }),
];
