import { readFileSync } from "node:fs";
import { createServer, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { contentSecurityPolicy } from "../../../services/api/security.ts";

/** What the page asks for, as the API answers it. */
export interface PageAnswers {
  readonly week: unknown;
  readonly sheets: Readonly<Record<string, unknown>>;
}

export interface PageServer {
  readonly address: string;
  /** What is answered from now on. */
  answers: PageAnswers;
  /** What was posted: path, body and the token against forged calls. */
  readonly posted: { readonly path: string; readonly body: string; readonly csrf: unknown }[];
  /** Until then a plan that was asked for is half done. */
  finishPlan(): void;
  close(): Promise<void>;
}

const mediaTypes: Record<string, string> = { html: "text/html", js: "text/javascript", css: "text/css" };
export const operationId = "11111111-1111-4111-8111-111111111111";
export const planId = "22222222-2222-4222-8222-222222222222";
export const newPlanId = "33333333-3333-4333-8333-333333333333";

export const csrfToken = "known to the page alone";
const session = {
  kind: "person",
  id: "44444444-4444-4444-8444-444444444444",
  name: "Ada Berg",
  roles: ["dispatcher"],
  crews: [],
  readOnly: false,
  csrfToken,
};

const request = (id: string, status: string) => ({
  id,
  operationId,
  status,
  progress: null,
  failure: null,
  planId: status === "done" ? id : null,
  // In Berlin 07:02 of a March day before the clocks go forward.
  endedAt: status === "done" ? "2027-03-25T06:02:00Z" : null,
});

/** Hands out the built page and answers like the API, one plan there already and one made on demand. */
export async function servePage(folder: string, firstAnswers: PageAnswers): Promise<PageServer> {
  const posted: PageServer["posted"] = [];
  const followers: ServerResponse[] = [];
  const done = `event: done\ndata: ${JSON.stringify(request(newPlanId, "done"))}\n\n`;
  const server = createServer((incoming, response) => {
    const path = (incoming.url ?? "/").split("?")[0]!;
    if (incoming.method === "POST") {
      let body = "";
      incoming.on("data", (chunk) => {
        body += chunk;
      });
      incoming.on("end", () => {
        posted.push({ path, body, csrf: incoming.headers["x-csrf-token"] });
        json(response, 202, request(newPlanId, "queued"));
      });
      return;
    }
    const sheet = /^\/api\/plans\/[^/]+\/crews\/([^/]+)\/days\/([^/]+)$/.exec(path);
    if (path === "/api/session") {
      json(response, 200, session);
    } else if (path === "/api/operations") {
      json(response, 200, { operations: [{ id: operationId, name: "Ålder valley", version: 1 }] });
    } else if (path === `/api/operations/${operationId}/plans`) {
      json(response, 200, { planRequests: [request(planId, "done")] });
    } else if (path.endsWith("/events")) {
      followers.push(response);
      sendProgress(response);
    } else if (path.startsWith("/api/plan-requests/")) {
      json(response, 200, request(path.split("/")[3]!, "done"));
    } else if (path.endsWith("/week")) {
      json(response, 200, pages.answers.week);
    } else if (sheet) {
      const found = pages.answers.sheets[`${sheet[1]} ${sheet[2]}`];
      json(response, found ? 200 : 404, found ?? { title: "There is no such crew-day.", status: 404 });
    } else {
      sendFile(response, join(folder, path === "/" ? "index.html" : path.slice(1)));
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  const pages: PageServer = {
    address: `http://127.0.0.1:${port}/`,
    answers: firstAnswers,
    posted,
    finishPlan: () => {
      for (const response of followers) response.end(done);
    },
    close: () => closed(server),
  };
  return pages;
}

function sendProgress(response: ServerResponse): void {
  response.writeHead(200, { "content-type": "text/event-stream" });
  const progress = { iterations: 500, share: 0.5, servedHa: 30, totalCents: 1 };
  response.write(`event: progress\ndata: ${JSON.stringify(progress)}\n\n`);
}

function json(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { "content-type": "application/json" });
  response.end(JSON.stringify(body));
}

function sendFile(response: ServerResponse, path: string): void {
  const mediaType = mediaTypes[path.split(".").at(-1)!] ?? "application/octet-stream";
  response.writeHead(200, {
    "content-type": `${mediaType}; charset=utf-8`,
    "content-security-policy": contentSecurityPolicy,
  });
  response.end(readFileSync(path));
}

function closed(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.closeAllConnections();
    server.close(() => resolve());
  });
}
