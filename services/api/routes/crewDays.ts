import {
  type CrewDayList,
  crewDayListSchema,
  type Publication,
  publishedSheetSchema,
} from "../../../shared/contracts/plans.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { crewIdSchema, localDateSchema } from "../../../shared/model/quantities.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { crewDayTotals, indexBy } from "../../../shared/plan/totals.ts";
import { planWithOperation, readSheet } from "../planViews.ts";
import { refuse, unknownThing } from "../problems.ts";
import { type Route, route, taggedAnswers } from "../route.ts";
import { render } from "../viewCache.ts";
import { none, operationParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";
import { nothingPublished } from "./publications.ts";

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
    async handle({ store, views }, { params: { operationId, crewId } }) {
      const publication = await store.latestPublication(operationId);
      if (publication === null) {
        const operation = await store.latestOperation(operationId);
        if (!operation?.document.fleet.crews.some(({ id }) => id === crewId)) return unknownThing("crew");
        return { kind: "view", view: await render(crewDayListSchema.parse({ publication: null, days: [] })) };
      }
      const view = await views.get(`days ${publication.id} ${crewId}`, async () => {
        const found = await planWithOperation(store, publication.planId);
        return found && daysOf(found, publication, crewId);
      });
      return viewOr(view, "crew");
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
    async handle({ store, views }, { params: { operationId, crewId, date } }) {
      const publication = await store.latestPublication(operationId);
      if (publication === null) return nothingPublished;
      const view = await views.get(`day ${publication.id} ${crewId} ${date}`, async () => {
        const sheet = await readSheet(store, publication.planId, crewId, date);
        return sheet && publishedSheetSchema.parse({ publication, sheet });
      });
      if (view === null) return refuse(404, `Crew ${crewId} does not go out on ${date}, as published.`, []);
      return { kind: "view", view };
    },
  }),
];

function daysOf(
  { operation, plan }: { operation: Operation; plan: Plan },
  publication: Publication,
  crewId: string,
): CrewDayList | null {
  if (!operation.fleet.crews.some(({ id }) => id === crewId)) return null;
  const calendar = createCalendar(operation.settings);
  const blocks = indexBy(plan.blocks, ({ id }) => id);
  const days = plan.crewDays
    .filter((crewDay) => crewDay.crewId === crewId)
    .map((crewDay) => {
      const { startMin, endMin, stops, areaHa } = crewDayTotals(crewDay, blocks);
      return {
        date: crewDay.date,
        leave: calendar.isoOfMin(startMin),
        back: calendar.isoOfMin(endMin),
        stops,
        areaHa,
      };
    })
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  return crewDayListSchema.parse({ publication, days });
}
