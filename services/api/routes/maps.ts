import { dayMapSchema, weekMapSchema } from "../../../shared/contracts/maps.ts";
import { publishedMapSchema } from "../../../shared/contracts/plans.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { dayMap } from "../../../shared/plan/dayMap.ts";
import { weekMap } from "../../../shared/plan/weekMap.ts";
import { planWithOperation } from "../planViews.ts";
import { refuse } from "../problems.ts";
import { type Route, route, taggedAnswers } from "../route.ts";
import { none, operationParams, planParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";
import { nothingPublished } from "./publications.ts";

const dayParams = { crewId: crewIdSchema, date: localDateSchema };

export const mapRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/plans/{planId}/map",
    id: "planMap",
    summary: "The fields of a week on the map, with what becomes of them in a plan",
    params: planParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The map", weekMapSchema) },
    problems: [404],
    async handle({ store, views }, { params: { planId } }) {
      const view = await views.get(`map ${planId}`, async () => {
        const found = await planWithOperation(store, planId);
        return found && weekMapSchema.parse(weekMap(found.operation, found.plan));
      });
      return viewOr(view, "plan");
    },
  }),

  route({
    method: "get",
    path: "/api/plans/{planId}/crews/{crewId}/days/{date}/map",
    id: "crewDayMapOfPlan",
    summary: "A crew's day of a plan on the map: route, pads, passes and neighbours",
    params: planParams.extend(dayParams),
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The map", dayMapSchema) },
    problems: [404],
    async handle({ store, views }, { params: { planId, crewId, date } }) {
      const view = await views.get(`map ${planId} ${crewId} ${date}`, async () => {
        const found = await planWithOperation(store, planId);
        const map = found && dayMap(found.operation, found.plan, crewId, date);
        return map && dayMapSchema.parse(map);
      });
      return viewOr(view, "crew-day");
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}/map",
    id: "crewDayMap",
    summary: "A crew's day on the map, as published",
    params: operationParams.extend(dayParams),
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The map", publishedMapSchema) },
    problems: [404],
    async handle({ store, views }, { params: { operationId, crewId, date } }) {
      const publication = await store.latestPublication(operationId);
      if (publication === null) return nothingPublished;
      const view = await views.get(`published map ${publication.id} ${crewId} ${date}`, async () => {
        const found = await planWithOperation(store, publication.planId);
        const map = found && dayMap(found.operation, found.plan, crewId, date);
        return map && publishedMapSchema.parse({ publication, map });
      });
      if (view === null) return refuse(404, `Crew ${crewId} does not go out on ${date}, as published.`, []);
      return { kind: "view", view };
    },
  }),
];
