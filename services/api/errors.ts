import type { ErrorRequestHandler, Request } from "express";
import type { Problem } from "../../shared/contracts/problem.ts";
import { type StoreTrouble, storeTrouble } from "../store/trouble.ts";
import { callIdOf } from "./guard.ts";
import { problem } from "./problems.ts";
import { BodyRefused } from "./readBody.ts";
import type { ApiParts } from "./route.ts";
import { sendProblem } from "./send.ts";

/** A handler that has not answered by then is no longer waited for; what it has begun may still come to an end. */
export class TooLate extends Error {
  constructor(routeId: string, limitMs: number) {
    super(`${routeId} has not answered within ${limitMs} ms`);
    this.name = "TooLate";
  }
}

const waitS = 5;

/** What was thrown on the way to an answer: by whatever reads the request, by a store that cannot be used just now, or by a bug. */
export function toProblem({ onError }: Pick<ApiParts, "onError">): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    if (response.headersSent) return next(error);
    const trouble = storeTrouble(error);
    if (trouble) {
      onError(error, callIdOf(request));
      return sendProblem(request, response, problem(503, troubleWords[trouble.kind]), trouble.retryAfterS);
    }
    if (error instanceof TooLate) {
      onError(error, callIdOf(request));
      const words = "This takes longer than we wait; it may still come to an end. Try again in a few seconds.";
      return sendProblem(request, response, problem(503, words), waitS);
    }
    const faulty = faultOfRequest(error);
    if (faulty) return sendProblem(request, response, faulty);
    onError(error, callIdOf(request));
    sendProblem(request, response, problem(500, wentWrong(request)));
  };
}

const wentWrong = (request: Request) =>
  `Something went wrong on our side; the server's log tells more under ${callIdOf(request)}.`;

const troubleWords: Readonly<Record<StoreTrouble["kind"], string>> = {
  unreachable: "The database does not answer; try again in a few seconds.",
  busy: "The database is too busy; try again in a few seconds.",
  full: "The database has no room left; nothing was stored.",
};

/** By the type that body-parser 2 gives to what it throws. */
const readingFaults: Readonly<Record<string, readonly [status: number, words: string]>> = {
  "entity.parse.failed": [400, "The body is not JSON."],
  "entity.too.large": [413, "The body is too large."],
  "encoding.unsupported": [415, "The body's content encoding is not known here; send it plain or with gzip."],
  "charset.unsupported": [415, "Send JSON in UTF-8."],
  "request.aborted": [400, "The request has ended in the middle."],
  "request.size.invalid": [400, "The body is not as long as content-length says."],
};

/** Null: not the request's fault. */
function faultOfRequest(error: unknown): Problem | null {
  if (error instanceof BodyRefused) return problem(error.status, error.message);
  const { status, type, code } = error as { status?: unknown; type?: unknown; code?: unknown };
  if (typeof type === "string" && readingFaults[type]) return problem(...readingFaults[type]);
  // zlib's, of a body that is not compressed as it says.
  if (typeof code === "string" && code.startsWith("Z_")) return problem(400, "The compressed body cannot be read.");
  if (typeof status !== "number" || status < 400 || status >= 500) return null;
  return problem(status, error instanceof URIError ? "The address cannot be read." : "The request cannot be read.");
}
