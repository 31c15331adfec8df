import type { Request, RequestHandler } from "express";
import type { EndedCall } from "../sight/endedCall.ts";
import { actorOf, callIdOf } from "./guard.ts";

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
        isStream: String(response.get("content-type") ?? "").startsWith("text/event-stream"),
        // What is answered to a caller who has gone may be written to its end all the same.
        brokenOff: !response.writableFinished || request.errored !== null,
      });
    });
    next();
  };
}
