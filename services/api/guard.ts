import { randomUUID } from "node:crypto";
import type { Request, RequestHandler } from "express";
import { type Actor, type Authenticate, isOwn, mayCall } from "./caller.ts";
import { problem } from "./problems.ts";
import type { Route } from "./route.ts";
import { sendProblem } from "./send.ts";
import { whyRefused } from "./whyRefused.ts";

interface Known {
  readonly actor: Actor | null;
}

const knownOf = new WeakMap<Request, Known>();
const callIds = new WeakMap<Request, string>();

export const actorOf = (request: Request): Actor | null => knownOf.get(request)?.actor ?? null;

/** Names a call in log, answer and audit trail. */
export function callIdOf(request: Request): string {
  const known = callIds.get(request) ?? randomUUID();
  callIds.set(request, known);
  return known;
}

/** Before anything of the call is read: who calls, and whether they may (access.ts). */
export function guard(route: Route, authenticate: Authenticate): RequestHandler {
  return async (request, response, next) => {
    const known = await authenticate(request);
    const actor = known.status === "known" ? known.actor : null;
    const may = mayCall(route.id, actor);
    if (may === "no" || (may === "own" && (actor === null || !isOwn(actor, request.params)))) {
      const status = known.status === "nobody" || known.status === "refused" ? 401 : 403;
      if (status === 401) response.set("www-authenticate", 'Bearer realm="calmhour"');
      return sendProblem(request, response, problem(status, whyRefused(route.id, known, may === "own")));
    }
    if (actor?.readOnly && route.method !== "get") {
      return sendProblem(request, response, problem(403, "This token is for reading only."));
    }
    knownOf.set(request, { actor });
    next();
  };
}
