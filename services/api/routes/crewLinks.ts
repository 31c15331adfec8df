import {
  crewLinkListSchema,
  crewLinkSchema,
  madeCrewLinkSchema,
  newCrewLinkSchema,
} from "../../../shared/contracts/crewLinks.ts";
import { createCrewLinkText } from "../../access/crewLinkText.ts";
import { calendarAddress, linkAddress } from "../links.ts";
import { otherCall, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { crewLinkParams, crewParams, none, operationParams } from "./parameters.ts";

export const crewLinkRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations/{operationId}/crews/{crewId}/links",
    id: "makeCrewLink",
    summary: "Make a link for a crew's phone, which then sees this crew's days until the link expires",
    params: crewParams,
    query: none,
    once: true,
    body: { schema: newCrewLinkSchema, optional: true },
    answers: {
      200: answers("The same call was answered before", madeCrewLinkSchema),
      201: answers("The link", madeCrewLinkSchema),
    },
    problems: [404, 422],
    async handle(parts, { params, body, call }) {
      const operation = await parts.store.latestOperation(params.operationId);
      if (!operation?.document.fleet.crews.some(({ id }) => id === params.crewId)) return unknownThing("crew");
      const made = await parts.store.addCrewLink(params, body.note, body.days * 24 * 3600, call.acting);
      if (made.outcome === "otherCall") return otherCall;
      const { id, expiresAt } = made.thing;
      const text = await createCrewLinkText(parts.access.secret).write(id, new Date(expiresAt));
      return {
        kind: "body",
        status: made.outcome === "made" ? 201 : 200,
        body: {
          crewLink: made.thing,
          address: linkAddress(parts, call, "crew", text),
          calendarAddress: calendarAddress(parts, call, text),
        },
        headers: { "cache-control": "no-store" },
      };
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crew-links",
    id: "listCrewLinks",
    summary: "Links for crews' phones of an operation, newest first",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: answers("The links", crewLinkListSchema) },
    problems: [],
    handle: async ({ store }, { params }) => ok({ crewLinks: await store.crewLinksOf(params.operationId) }),
  }),

  route({
    method: "delete",
    path: "/api/crew-links/{linkId}",
    id: "revokeCrewLink",
    summary: "Withdraw a link for a crew's phone; phones that have opened it are signed out",
    params: crewLinkParams,
    query: none,
    body: null,
    answers: { 200: answers("The link, which holds no more", crewLinkSchema) },
    problems: [404],
    async handle({ store }, { params, call }) {
      const found = await store.revokeCrewLink(params.linkId, call.acting);
      return found ? ok(found) : unknownThing("link");
    },
  }),
];
