import { existsSync } from "node:fs";
import express, { type Express, type RequestHandler } from "express";
import sirv from "sirv";
import { isHttps } from "../access/accessSettings.ts";
import type { EndedCall } from "../sight/endedCall.ts";
import type { Authenticate } from "./caller.ts";
import { toProblem } from "./errors.ts";
import { guard } from "./guard.ts";
import { openApiDocument } from "./openApi.ts";
import { isFromOurPage } from "./ourPage.ts";
import { problem } from "./problems.ts";
import { readBody } from "./readBody.ts";
import type { ApiParts } from "./route.ts";
import { routeTable } from "./routeTable.ts";
import { onlyOurHosts, secureHeaders } from "./security.ts";
import { sendProblem } from "./send.ts";
import { serveRoute } from "./serveRoute.ts";
import { createStreams } from "./streams.ts";
import { createViewCache } from "./viewCache.ts";
import { noteRoute, watchCalls } from "./watchCalls.ts";

export interface AppParts extends Omit<ApiParts, "views"> {
  /** The built page. */
  readonly pageFolder: string;
  readonly authenticate: Authenticate;
  /** Told of every call that has ended. */
  readonly onCall?: (call: EndedCall) => void;
  /** The names by which we may be called, without ports; left out: any. */
  readonly hosts?: readonly string[];
}

export function createApp(parts: AppParts): Express {
  const app = express();
  app.disable("x-powered-by");
  // Of its own Express puts weak tags on everything, errors too; ours are where something can be done with them.
  app.disable("etag");
  // One address for one thing.
  app.enable("strict routing");
  app.enable("case sensitive routing");
  app.use(watchCalls(parts.onCall ?? (() => undefined)));
  app.use(secureHeaders(isHttps(parts.access)));
  if (parts.hosts) app.use(onlyOurHosts(parts.hosts));
  app.use(refuseOtherSites(parts));
  const document = JSON.stringify(openApiDocument(routeTable));
  app.get("/api/openapi.json", (_request, response) => {
    response.type("json").send(document);
  });
  const apiParts: ApiParts = { ...parts, views: createViewCache() };
  const streams = createStreams();
  for (const route of routeTable) {
    const path = route.path.replaceAll("{", ":").replaceAll("}", "");
    const handlers: RequestHandler[] = route.body ? [readBody(route.bodyBytesMax)] : [];
    app[route.method](
      path,
      noteRoute(route.id),
      guard(route, parts.authenticate),
      ...handlers,
      serveRoute(route, apiParts, streams),
    );
  }
  app.use("/api", (request, response) => {
    sendProblem(request, response, problem(404, "There is nothing at this address."));
  });
  app.use(ourPage(parts.pageFolder));
  app.use((request, response) => {
    sendProblem(request, response, problem(404, "There is nothing at this address."));
  });
  app.use(toProblem(parts));
  return app;
}

/** The screens, where they have been built. What is built has its contents in its name and may be kept for ever; all else is asked for anew. */
function ourPage(folder: string): RequestHandler {
  if (!existsSync(folder)) return (_request, _response, next) => next();
  return sirv(folder, {
    etag: true,
    gzip: true,
    setHeaders(response, path) {
      response.setHeader(
        "cache-control",
        path.startsWith("/assets/") ? "public, max-age=31536000, immutable" : "no-cache",
      );
    },
  });
}

/** A page of another site must not be able to sign anybody in or out through its reader's browser; what needs a session is guarded further (authenticate.ts). */
function refuseOtherSites({ access }: Pick<ApiParts, "access">): RequestHandler {
  return (request, response, next) => {
    const isRead = request.method === "GET" || request.method === "HEAD";
    if (isRead || isFromOurPage(request, access)) return next();
    const ours = access.origin === null ? "" : ` Ours is at ${access.origin}.`;
    sendProblem(request, response, problem(403, `Calls from pages of other sites are refused.${ours}`));
  };
}
