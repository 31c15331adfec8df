import express, {
  type ErrorRequestHandler,
  type Express,
  type Request,
  type RequestHandler,
  type Response,
} from "express";
import helmet from "helmet";
import { type Problem, problemMediaType } from "../../shared/contracts/problem.ts";
import { issueWords } from "../../shared/model/issueWords.ts";
import { openApiDocument } from "./openApi.ts";
import { faultsOf, problem } from "./problems.ts";
import type { Answer, ApiParts, Route } from "./route.ts";
import { routeTable } from "./routeTable.ts";
import { streamEvents } from "./stream.ts";

const bodyLimit = "30mb";

export interface AppParts extends ApiParts {
  /** The built page. */
  readonly pageFolder: string;
}

export function createApp(parts: AppParts): Express {
  const app = express();
  app.disable("x-powered-by");
  app.use(helmet({ contentSecurityPolicy: { directives: { "upgrade-insecure-requests": null } }, hsts: false }));
  app.use(refuseOtherSites);
  const document = openApiDocument(routeTable);
  app.get("/api/openapi.json", (_request, response) => {
    response.json(document);
  });
  const readBody = express.json({ limit: bodyLimit, strict: false });
  for (const route of routeTable) {
    const path = route.path.replaceAll("{", ":").replaceAll("}", "");
    const handlers: RequestHandler[] = route.body ? [readBody, serve(route, parts)] : [serve(route, parts)];
    app[route.method](path, ...handlers);
  }
  app.use("/api", (request, response) => {
    sendProblem(request, response, problem(404, "There is nothing at this address."));
  });
  app.use(express.static(parts.pageFolder));
  app.use((request, response) => {
    sendProblem(request, response, problem(404, "There is nothing at this address."));
  });
  app.use(toProblem(parts));
  return app;
}

/** There is no log-in, so a page of another site must not be able to change anything through its reader's browser. */
const refuseOtherSites: RequestHandler = (request, response, next) => {
  const isRead = request.method === "GET" || request.method === "HEAD";
  if (!isRead && request.get("sec-fetch-site") === "cross-site") {
    sendProblem(request, response, problem(403, "Calls from pages of other sites are refused."));
  } else next();
};

function serve(route: Route, parts: AppParts): RequestHandler {
  return async (request, response) => {
    const answer = await answerOf(route, parts, request);
    if (answer.kind === "problem") return sendProblem(request, response, answer.problem);
    if (answer.kind === "events") return streamEvents(response, answer.source);
    const schema = route.answers[answer.status]?.schema;
    if (!schema) throw new Error(`${route.id} answers ${answer.status}, which its table does not list`);
    if (answer.location !== undefined) response.location(answer.location);
    response.status(answer.status).json(schema.parse(answer.body));
  };
}

async function answerOf(route: Route, parts: AppParts, request: Request): Promise<Answer> {
  const params = route.params.safeParse(request.params);
  if (!params.success) return { kind: "problem", problem: problem(404, "There is no such thing.") };
  const query = route.query.safeParse(request.query, { error: issueWords });
  if (!query.success) {
    return { kind: "problem", problem: problem(400, "Faulty query.", faultsOf(query.error, request.query)) };
  }
  const input = { params: params.data, query: query.data };
  if (!route.body) return route.handle(parts, { ...input, body: undefined });

  const isEmpty = request.get("content-length") === "0" || !hasBody(request);
  if (!request.is("application/json") && !(isEmpty && route.bodyOptional)) {
    return { kind: "problem", problem: problem(415, "Send JSON with content type application/json.") };
  }
  const raw: unknown = isEmpty && route.bodyOptional ? {} : request.body;
  const body = route.body.safeParse(raw, { error: issueWords });
  if (!body.success) {
    return { kind: "problem", problem: problem(422, "Faulty body.", faultsOf(body.error, raw)) };
  }
  return route.handle(parts, { ...input, body: body.data });
}

/** RFC 9112, section 6.3: a request has a body when it has one of these headers. */
function hasBody(request: Request): boolean {
  return request.get("content-length") !== undefined || request.get("transfer-encoding") !== undefined;
}

function sendProblem(request: Request, response: Response, told: Problem): void {
  response
    .status(told.status)
    .type(problemMediaType)
    .send(JSON.stringify({ ...told, instance: request.originalUrl }));
}

/** What the body reader or a bug has thrown. */
function toProblem({ onError }: ApiParts): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    if (response.headersSent) return next(error);
    const { status, message } = error as { status?: number; message?: string };
    if (status !== undefined && status >= 400 && status < 500) {
      return sendProblem(request, response, problem(status, message ?? "The request cannot be read."));
    }
    onError(error);
    sendProblem(request, response, problem(500, "Something went wrong on our side; the server's log tells more."));
  };
}
