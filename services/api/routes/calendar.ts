import { z } from "zod";
import { createCrewLinkText } from "../../access/crewLinkText.ts";
import { viewOfPlan } from "../planViews.ts";
import { nothingPublished, refuse } from "../problems.ts";
import { fileAnswers, type Route, route } from "../route.ts";
import { none } from "./parameters.ts";
import { viewOr } from "./plans.ts";

const gone = refuse(404, "This link has expired, was withdrawn or is not whole; ask for a new one.", []);

/** Calendars cannot sign in: what opens the feed is the crew's link in its address, and it ends with the link. */
export const calendarRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/calendar/{link}/crew.ics",
    id: "crewCalendar",
    summary: "A crew's days as published, for a calendar that reads feeds",
    params: z.object({ link: z.string().max(2000).describe("what a crew's link carries behind its last /") }),
    query: none,
    body: null,
    answers: { 200: fileAnswers("The calendar (RFC 5545)", "text/calendar") },
    problems: [404],
    async handle(parts, { params: { link } }) {
      const { access, store } = parts;
      const linkId = await createCrewLinkText(access.secret).read(link, await store.timeNow());
      const crew = linkId && (await store.crewOfLink(linkId));
      if (!crew) return gone;
      const { crewId, operationId } = crew;
      const publication = await store.latestPublication(operationId);
      if (publication === null) return nothingPublished;
      return viewOr(await viewOfPlan(parts, publication.planId, { kind: "calendar", crewId, publication }), "crew");
    },
  }),
];
