import { z } from "zod";
import {
  defaultPlanSeconds,
  hasEnded,
  planBodySchema,
  planKeySchema,
  planRequestListSchema,
  planRequestSchema,
  planStatuses,
} from "../../../shared/contracts/planRequests.ts";
import { requestPiece } from "../../queue/pieces.ts";
import { followEvents } from "../followEvents.ts";
import { faultyCursor, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { otherCall, unknownThing } from "../problems.ts";
import { answers, eventStream, ok, type Route, route } from "../route.ts";
import { none, operationParams, requestParams } from "./parameters.ts";

export const planRequestRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations/{operationId}/plans",
    id: "requestPlan",
    summary: "Ask for a plan of the latest version of an operation",
    params: operationParams,
    query: none,
    once: true,
    body: { schema: planBodySchema, optional: true },
    answers: { 202: { ...answers("The request is queued", planRequestSchema), locationHeader: true } },
    problems: [404, 422],
    async handle({ store, queue }, { params, body, call }) {
      const operation = await store.operationSummary(params.operationId);
      if (!operation) return unknownThing("operation");
      const made = await store.addPlanRequest(
        {
          operationId: operation.id,
          version: operation.version,
          budget:
            body.iterations === undefined
              ? { seconds: body.seconds ?? defaultPlanSeconds }
              : { iterations: body.iterations },
          seed: body.seed,
        },
        call.acting,
      );
      if (made.outcome === "otherCall") return otherCall;
      const request = made.thing;
      await queue.addInTurn([requestPiece(request)]);
      return { kind: "body", status: 202, body: request, location: `/api/plan-requests/${request.id}` };
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/plans",
    id: "listPlanRequests",
    summary: "Plan requests of an operation, newest first",
    params: operationParams,
    query: pageQuery.extend({
      status: z.enum(planStatuses).optional().describe("those of this status"),
    }),
    body: null,
    answers: { 200: answers("The requests", planRequestListSchema) },
    problems: [],
    async handle({ store }, { params, query }) {
      const stretch = stretchOf(query, planKeySchema);
      if (!stretch) return faultyCursor;
      const asked = { ...stretch, status: query.status ?? null };
      const { entries, next } = pageOf(query, await store.planRequestsOf(params.operationId, asked), ({ id }) => id);
      return ok({ planRequests: entries, next });
    },
  }),

  route({
    method: "get",
    path: "/api/plan-requests/{requestId}",
    id: "planRequest",
    summary: "How a plan request stands",
    params: requestParams,
    query: none,
    body: null,
    answers: { 200: answers("The request", planRequestSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const request = await store.planRequest(params.requestId);
      return request ? ok(request) : unknownThing("plan request");
    },
  }),

  route({
    method: "get",
    path: "/api/plan-requests/{requestId}/events",
    id: "planRequestEvents",
    summary: "Follow a plan request: `progress` events with the progress, then one `done` event with the request",
    params: requestParams,
    query: none,
    body: null,
    answers: { 200: eventStream },
    problems: [404],
    async handle({ store, onError }, { params }) {
      const request = await store.planRequest(params.requestId);
      if (!request) return unknownThing("plan request");
      return { kind: "events", source: followEvents(store, request.id, () => store.planRequest(request.id), onError) };
    },
  }),

  route({
    method: "post",
    path: "/api/plan-requests/{requestId}/cancel",
    id: "cancelPlanRequest",
    summary: "Cancel a plan request; one that runs comes to an end soon after, with its best plan so far if it has one",
    params: requestParams,
    query: none,
    body: null,
    answers: {
      200: answers("The request has ended", planRequestSchema),
      202: answers("The request is being stopped", planRequestSchema),
    },
    problems: [404],
    async handle({ store, queue }, { params, call }) {
      const request = await store.requestCancel(params.requestId, call.acting);
      if (!request) return unknownThing("plan request");
      await queue.cancel(request.id);
      return { kind: "body", status: hasEnded(request.status) ? 200 : 202, body: request };
    },
  }),
];
