import type { Request, RequestHandler } from "express";
import { actorOf, callIdOf } from "./guard.ts";

/** A call that has ended, for log and figures: without its address, headers and body, in which there may be secrets. */
export interface EndedCall {
  readonly callId: string;
  /** Null: no route of the API, such as a file of the page. */
  readonly routeId: string | null;
  readonly method: string;
  readonly status: number;
  readonly durationMs: number;
  readonly actor: { readonly kind: string; readonly id: string } | null;
  /** The caller has gone before the answer was complete, as streams always end. */
  readonly brokenOff: boolean;
}

const routeIds = new WeakMap<Request, string>();

/** Says of which route a call is. */
export function noteRoute(routeId: string): RequestHandler {
  return (request, _response, next) => {
    routeIds.set(request, routeId);
    next();
  };
}

/** Names every call in its answer and tells of its end. A name that the caller brings is not taken over: it would be in our log. */
export function watchCalls(onCall: (call: EndedCall) => void): RequestHandler {
  return (request, response, next) => {
    const beganMs = performance.now();
    const callId = callIdOf(request);
    response.set("x-request-id", callId);
    response.once("close", () => {
      const actor = actorOf(request);
      onCall({
        callId,
        routeId: routeIds.get(request) ?? null,
        method: request.method,
        status: response.statusCode,
        durationMs: performance.now() - beganMs,
        actor: actor && { kind: actor.kind, id: actor.id },
        brokenOff: !response.writableFinished,
      });
    });
    next();
  };
}
