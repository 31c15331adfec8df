import { z } from "zod";
import {
  deadLetterKeySchema,
  deadLetterKinds,
  deadLetterPageSchema,
  revivedSchema,
} from "../../../shared/contracts/deadLetters.ts";
import { partPiece, requestPiece } from "../../queue/pieces.ts";
import { cursorOf, faultyCursor, pageQuery, placeOf } from "../paging.ts";
import { otherCall, refuse, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none } from "./parameters.ts";

const letterParams = z.object({ deadLetterId: deadLetterKeySchema });
const placeSchema = z.object({ failedUs: z.number().int().min(0), id: deadLetterKeySchema });

export const deadLetterRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/dead-letters",
    id: "listDeadLetters",
    summary: "What has failed for good, newest first, unless it was laid aside",
    params: none,
    query: pageQuery.extend({ kind: z.enum(deadLetterKinds).optional().describe("those of this kind") }),
    body: null,
    answers: { 200: answers("A page of them", deadLetterPageSchema) },
    problems: [],
    async handle({ store }, { query: { limit, cursor, kind } }) {
      const after = cursor === undefined ? null : placeOf(placeSchema, cursor);
      if (after === undefined) return faultyCursor;
      const found = await store.deadLetters(kind ?? null, limit + 1, after);
      const page = found.slice(0, limit);
      const next = found.length > limit ? cursorOf(page.at(-1)!.place) : null;
      return ok({ deadLetters: page.map(({ place: _, ...letter }) => letter), next });
    },
  }),

  route({
    method: "post",
    path: "/api/dead-letters/{deadLetterId}/again",
    id: "repeatDeadLetter",
    summary: "Have it worked again, as if it had never been begun",
    params: letterParams,
    query: none,
    once: true,
    body: null,
    answers: { 202: { ...answers("It is queued", revivedSchema), locationHeader: true } },
    problems: [404, 409, 422],
    async handle({ store, queue, runs }, { params: { deadLetterId }, call }) {
      const revived = await store.revive(deadLetterId, call.acting);
      if (revived.outcome === "otherCall") return otherCall;
      if (revived.outcome === "notDead") return refuse(409, "This has not failed, or is being worked again.", []);
      const { kind, thingId } = revived;
      const request = kind === "plan" ? await store.planRequest(thingId) : null;
      if (request) await queue.addInTurn([requestPiece(request)]);
      else await runs.addInTurn((await store.turnsOf(thingId)).map(partPiece));
      const location = `/api/${kind === "plan" ? "plan-requests" : "studies"}/${thingId}`;
      return { kind: "body", status: 202, body: { id: deadLetterId, kind }, location };
    },
  }),

  route({
    method: "post",
    path: "/api/dead-letters/{deadLetterId}/dismiss",
    id: "dismissDeadLetter",
    summary: "Lay it aside: it is told here no more",
    params: letterParams,
    query: none,
    body: null,
    answers: { 204: answers("It is laid aside", z.undefined()) },
    problems: [404],
    async handle({ store }, { params: { deadLetterId }, call }) {
      return (await store.dismiss(deadLetterId, call.acting)) ? { kind: "empty" } : unknownThing("dead letter");
    },
  }),
];
