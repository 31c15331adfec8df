import { createHash } from "node:crypto";
import type { Request, RequestHandler } from "express";
import { issueWords } from "../../shared/model/issueWords.ts";
import { type Acting, actingAsService, type Once } from "../store/acting.ts";
import { TooLate } from "./errors.ts";
import { namesIt } from "./etags.ts";
import { actorOf, callIdOf } from "./guard.ts";
import { faultsOf, problem } from "./problems.ts";
import type { Answer, ApiParts, Call, Precondition, Route } from "./route.ts";
import { sendProblem, sendView } from "./send.ts";
import type { Streams } from "./streams.ts";

/** Our choice: longer than the store takes to give up, so that its words reach the caller. */
const answerWithinMs = 25_000;
const streamsAgainS = 10;

/** Reads what was sent, has it handled and sends the answer. */
export function serveRoute(route: Route, parts: ApiParts, streams: Streams): RequestHandler {
  return async (request, response) => {
    const answer = await inTime(route.id, answerOf(route, parts, request));
    if (answer.kind === "problem") return sendProblem(request, response, answer.problem, answer.retryAfterS);
    if (answer.kind === "view") return sendView(request, response, answer.view, route.answers[200]!.mediaType);
    if (answer.kind === "events") {
      if (streams.open(request, response, answer.source)) return;
      return sendProblem(request, response, problem(429, "Too many streams are open; close some."), streamsAgainS);
    }
    response.set("cache-control", "no-store");
    if (answer.headers) response.set(answer.headers);
    if (answer.etag !== undefined) {
      response.set("etag", `"${answer.etag}"`);
      // Express does not look at If-None-Match where Cache-Control says no-cache, as fetch does with it.
      if (request.method === "GET" && namesIt(request.get("if-none-match"), answer.etag)) {
        return void response.status(304).end();
      }
    }
    if (answer.kind === "empty") return void response.status(204).end();
    const told = route.answers[answer.status];
    if (!told) throw new Error(`${route.id} answers ${answer.status}, which its table does not list`);
    if (answer.location !== undefined) response.location(answer.location);
    const body = told.schema.parse(answer.body);
    response.status(answer.status);
    if (told.mediaType === "text/plain") response.type(told.mediaType).send(body);
    else response.json(body);
  };
}

async function inTime(routeId: string, answer: Promise<Answer>): Promise<Answer> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new TooLate(routeId, answerWithinMs)), answerWithinMs);
  });
  try {
    return await Promise.race([answer, late]);
  } finally {
    clearTimeout(timer);
  }
}

async function answerOf(route: Route, parts: ApiParts, request: Request): Promise<Answer> {
  const params = route.params.safeParse(request.params, { error: issueWords });
  if (!params.success) {
    const faults = faultsOf(params.error, request.params);
    return { kind: "problem", problem: problem(404, "There can be nothing at this address.", faults) };
  }
  const query = route.query.safeParse(request.query, { error: issueWords });
  if (!query.success) {
    return { kind: "problem", problem: problem(400, "Faulty query.", faultsOf(query.error, request.query)) };
  }
  const precondition = route.precondition ? preconditionOf(request) : null;
  if (route.precondition && precondition === null) {
    const detail = "Say what you change: If-Match with the ETag that you have read, or If-None-Match: * for a new one.";
    return { kind: "problem", problem: problem(428, detail) };
  }
  const input = { params: params.data, query: query.data };
  if (!route.body) {
    const once = onceOf(route, request, null);
    return once === "faulty"
      ? faultyKey
      : route.handle(parts, { ...input, body: undefined, call: callOf(route, request, precondition, once) });
  }

  const isEmpty = request.get("content-length") === "0" || !hasBody(request);
  if (!request.is("application/json") && !(isEmpty && route.bodyOptional)) {
    return { kind: "problem", problem: problem(415, "Send JSON with content type application/json.") };
  }
  const raw: unknown = isEmpty && route.bodyOptional ? {} : request.body;
  const body = route.body.safeParse(raw, { error: issueWords });
  if (!body.success) {
    return { kind: "problem", problem: problem(422, "Faulty body.", faultsOf(body.error, raw)) };
  }
  const once = onceOf(route, request, raw);
  if (once === "faulty") return faultyKey;
  return route.handle(parts, { ...input, body: body.data, call: callOf(route, request, precondition, once) });
}

function callOf(route: Route, request: Request, precondition: Precondition | null, once: Once | null): Call {
  const actor = actorOf(request);
  const by = actor ?? actingAsService(route.id).by;
  const acting: Acting = {
    by: { kind: by.kind, id: by.id, name: by.name },
    action: route.id,
    callId: callIdOf(request),
    once,
  };
  return {
    actor,
    acting,
    precondition,
    address: request.socket.remoteAddress ?? "",
    header: (name) => request.get(name),
  };
}

const faultyKey: Answer = {
  kind: "problem",
  problem: problem(400, "Idempotency-Key: expected 1 to 200 visible characters."),
};

function onceOf(route: Route, request: Request, raw: unknown): Once | null | "faulty" {
  const key = route.once ? request.get("idempotency-key") : undefined;
  if (key === undefined) return null;
  if (!/^[\x21-\x7e]{1,200}$/.test(key)) return "faulty";
  const digest = createHash("sha256")
    .update(JSON.stringify([request.method, request.originalUrl, raw]))
    .digest("hex");
  return { key, digest };
}

/** RFC 9110, section 13.1.1 and 13.1.2; weak tags never match where something is written. */
function preconditionOf(request: Request): Precondition | null {
  if (request.get("if-none-match") === "*") return { kind: "ifNew" };
  const etags = [...(request.get("if-match") ?? "").matchAll(/(W\/)?"([\x21\x23-\x7e\x80-\xff]*)"/g)].flatMap(
    ([, weak, etag]) => (weak === undefined && etag !== undefined ? [etag] : []),
  );
  return etags.length > 0 ? { kind: "ifMatch", etags } : null;
}

/** RFC 9112, section 6.3: a request has a body when it has one of these headers. */
function hasBody(request: Request): boolean {
  return request.get("content-length") !== undefined || request.get("transfer-encoding") !== undefined;
}
