import { dayMapSchema, weekMapSchema } from "../../../shared/contracts/maps.ts";
import { publishedMapSchema } from "../../../shared/contracts/plans.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { viewOfPlan } from "../planViews.ts";
import { publishedDay } from "../publishedDay.ts";
import { type Route, route, taggedAnswers } from "../route.ts";
import { none, operationParams, planParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";

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
    handle: async (parts, { params: { planId } }) =>
      viewOr(await viewOfPlan(parts, planId, { kind: "weekMap" }), "plan"),
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
    handle: async (parts, { params: { planId, crewId, date } }) =>
      viewOr(await viewOfPlan(parts, planId, { kind: "dayMap", crewId, date, publication: null }), "crew-day"),
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
    handle: (parts, { params }) =>
      publishedDay(parts, params, ({ crewId, date }, publication) => ({ kind: "dayMap", crewId, date, publication })),
  }),
];
