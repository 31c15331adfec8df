import { crewDayListSchema, publishedSheetSchema } from "../../../shared/contracts/plans.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import { viewOfPlan } from "../planViews.ts";
import { unknownThing } from "../problems.ts";
import { publishedDay } from "../publishedDay.ts";
import { type Route, route, taggedAnswers } from "../route.ts";
import { jsonOf, render } from "../viewCache.ts";
import { none, operationParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";

const crewParams = operationParams.extend({ crewId: crewIdSchema });

/** What crews see: only what was published, and nothing of costs. The publication's number tells a phone that its day may have changed. */
export const crewDayRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days",
    id: "crewDays",
    summary: "A crew's days as published",
    params: crewParams,
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The days", crewDayListSchema) },
    problems: [404],
    async handle(parts, { params: { operationId, crewId } }) {
      const { store } = parts;
      const publication = await store.latestPublication(operationId);
      if (publication === null) {
        const operation = await store.latestOperation(operationId);
        if (!operation?.document.fleet.crews.some(({ id }) => id === crewId)) return unknownThing("crew");
        return { kind: "view", view: await render(jsonOf(crewDayListSchema.parse({ publication: null, days: [] }))) };
      }
      return viewOr(await viewOfPlan(parts, publication.planId, { kind: "days", crewId, publication }), "crew");
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/days/{date}",
    id: "crewDay",
    summary: "A crew's day as published, as its lead needs it",
    params: crewParams.extend({ date: localDateSchema }),
    query: none,
    body: null,
    answers: { 200: taggedAnswers("The crew sheet", publishedSheetSchema) },
    problems: [404],
    handle: (parts, { params }) =>
      publishedDay(parts, params, ({ crewId, date }, publication) => ({ kind: "sheet", crewId, date, publication })),
  }),
];
