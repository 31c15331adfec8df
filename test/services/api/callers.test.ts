import { type IncomingMessage, request } from "node:http";
import { connect, type Socket } from "node:net";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type AppParts, createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import type { EndedCall } from "../../../services/sight/endedCall.ts";
import type { Store } from "../../../services/store/store.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import { everybody } from "../../support/acting.ts";
import { idleQueue } from "../../support/idleQueue.ts";
import { eventually, temporaryFolder } from "../../support/servers.ts";

const id = "00000000-0000-4000-8000-000000000001";
/** A request whose progress never stands still, and is long to read. */
const running = (): PlanRequest => ({
  id,
  operationId: id,
  version: 1,
  kind: "plan",
  fromPlanId: null,
  seconds: 1,
  iterations: null,
  seed: 1,
  status: "running",
  progress: { iterations: reads++, share: 0.5, servedHa: 1, totalCents: 1, ...{ words: "x".repeat(4_000) } },
  failure: null,
  planId: null,
  createdAt: "2027-01-01T00:00:00.000Z",
  startedAt: "2027-01-01T00:00:00.000Z",
  endedAt: null,
});
let reads = 0;
let watchers = 0;
const store = {
  planRequest: async () => running(),
  listOperations: () => new Promise(() => undefined),
  isUpToDate: async () => true,
  watch(_id: string, onChange: () => void) {
    watchers++;
    const timer = setInterval(onChange, 1);
    return () => {
      watchers--;
      clearInterval(timer);
    };
  },
} as unknown as Store;

let api: Listening;
const page = temporaryFolder();
const calls: EndedCall[] = [];
const errors: unknown[] = [];
let isClosing = false;
beforeAll(async () => {
  // Without what the routes called here do not ask for.
  const parts: Partial<AppParts> = {
    store,
    queue: idleQueue,
    runs: idleQueue,
    onError: (error) => errors.push(error),
    onCall: (call) => calls.push(call),
    isClosing: () => isClosing,
    hosts: ["localhost", "127.0.0.1"],
    access: { secret: "s".repeat(32), origin: null },
    authenticate: async () => ({ status: "known", actor: everybody }),
    pageFolder: page.folder,
  };
  const app = createApp(parts as AppParts);
  const limits = { headersWithinMs: 400, requestWithinMs: 800, headerBytes: 8 * 1024, connections: 60 };
  const bound = await listen(app, { host: "127.0.0.1", port: 18_380, orNext: true, limits });
  if (bound.status !== "listening") throw new Error("no free port");
  api = bound.api;
});
afterAll(async () => {
  await api.close();
  page.remove();
  expect(errors).toEqual([]);
});

/** What comes back until the server closes, to bytes written one after the other. */
function raw(pieces: readonly string[], betweenMs: number): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(api.port, "127.0.0.1");
    let text = "";
    socket.on("data", (chunk) => {
      text += chunk;
    });
    socket.on("error", () => undefined);
    socket.on("close", () => resolve(text));
    void (async () => {
      for (const piece of pieces) {
        if (socket.destroyed) return;
        socket.write(piece);
        await new Promise((go) => setTimeout(go, betweenMs));
      }
    })();
  });
}
const drip = (text: string) => [...text];
const problemIn = (text: string) => JSON.parse(text.slice(text.indexOf("\r\n\r\n") + 4)) as Problem;
const get = (path: string, headers: Record<string, string> = {}) =>
  fetch(`http://127.0.0.1:${api.port}${path}`, { headers });

describe("a caller that is slow or silent", () => {
  it("is cut off while it sends its headers, byte by byte", async () => {
    const began = performance.now();
    const told = await raw(drip(`GET /health/live HTTP/1.1\r\nhost: localhost\r\nx-long: ${"a".repeat(400)}\r\n`), 10);
    expect(problemIn(told)).toMatchObject({ status: 408 });
    expect(performance.now() - began).toBeLessThan(4_000);
  });

  it("is cut off while it sends its body, byte by byte", async () => {
    const head = `POST /api/operations HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 5000\r\n\r\n`;
    expect(problemIn(await raw([head, ...drip("[".repeat(400))], 10))).toMatchObject({ status: 408 });
  });

  it("is cut off when it says nothing at all", async () => {
    expect(problemIn(await raw([], 0))).toMatchObject({ status: 408 });
  });

  it("costs nobody else anything", async () => {
    const slow = Array.from({ length: 40 }, () => raw(drip(`GET / HTTP/1.1\r\n${"a".repeat(60)}`), 10));
    const began = performance.now();
    for (let at = 0; at < 10; at++) expect((await get("/health/live")).status).toBe(200);
    expect(performance.now() - began).toBeLessThan(2_000);
    await Promise.all(slow);
  });

  it("loses its stream when it does not read, and what followed for it is ended", async () => {
    const socket: Socket = connect(api.port, "127.0.0.1");
    socket.on("error", () => undefined);
    socket.pause();
    const begun = new Promise((resolve) => socket.once("connect", resolve));
    await begun;
    socket.write(`GET /api/plan-requests/${id}/events HTTP/1.1\r\nhost: localhost\r\n\r\n`);
    await eventually(() => (watchers === 1 ? true : null));
    await eventually(() => (watchers === 0 ? true : null), 30_000);
    socket.destroy();
  }, 40_000);

  it("may go in the middle of a stream or of its body, and nothing of it is left", async () => {
    const opened = await get(`/api/plan-requests/${id}/events`);
    expect(watchers).toBe(1);
    await opened.body!.cancel();
    await eventually(() => (watchers === 0 ? true : null));
    // Once more where the server has not begun to read before the caller is gone.
    await eventually(async () => {
      const socket = connect(api.port, "127.0.0.1");
      socket.write(
        "POST /api/operations HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 5000\r\n\r\n[",
      );
      await new Promise((resolve) => setTimeout(resolve, 100));
      socket.destroy();
      await new Promise((resolve) => setTimeout(resolve, 100));
      return calls.find(({ routeId, brokenOff }) => routeId === "importOperation" && brokenOff) ?? null;
    });
  });

  it("hears 503 when its answer takes too long", async () => {
    const told = await get("/api/operations");
    expect(told.status).toBe(503);
    expect(Number(told.headers.get("retry-after"))).toBeGreaterThan(0);
    errors.splice(0);
  }, 40_000);
});

describe("a caller that wants too much", () => {
  it("may have 32 streams, and is told so at one more", async () => {
    const open: IncomingMessage[] = [];
    for (let at = 0; at < 32; at++) {
      open.push(
        await new Promise<IncomingMessage>((resolve) =>
          request({ port: api.port, host: "127.0.0.1", path: `/api/plan-requests/${id}/events` }, resolve).end(),
        ),
      );
      open
        .at(-1)!
        .resume()
        .on("error", () => undefined);
    }
    const told = await get(`/api/plan-requests/${id}/events`);
    expect([told.status, told.headers.get("retry-after")]).toEqual([429, "10"]);
    await told.text();
    for (const stream of open) stream.destroy();
    await eventually(() => (watchers === 0 ? true : null));
    const again = await get(`/api/plan-requests/${id}/events`);
    expect(again.status).toBe(200);
    await again.body!.cancel();
  }, 40_000);

  it("sends headers that are too large, or what is no HTTP", async () => {
    expect(
      problemIn(await raw([`GET / HTTP/1.1\r\nhost: localhost\r\nx: ${"a".repeat(20_000)}\r\n\r\n`], 0)),
    ).toMatchObject({ status: 431 });
    expect(problemIn(await raw(["\x16\x03\x01 hello\r\n\r\n"], 0))).toMatchObject({ status: 400 });
  });
});

describe("a call that cannot be read", () => {
  const post = (headers: Record<string, string>, body: string | Buffer) =>
    fetch(`http://127.0.0.1:${api.port}/api/operations`, {
      method: "POST",
      headers: { "content-type": "application/json", ...headers },
      body: body as string,
    });

  it.each([
    ["percent signs that mean nothing", () => get("/api/plan-requests/%E0%A4%A/events"), 400],
    ["no JSON", () => post({}, "{"), 400],
    ["a content encoding that is not known", () => post({ "content-encoding": "br2" }, "{}"), 415],
    ["another charset", () => post({ "content-type": "application/json; charset=utf-9" }, "{}"), 415],
    ["gzip that is none", () => post({ "content-encoding": "gzip" }, "{}"), 400],
    [
      "gzip that breaks off",
      () => post({ "content-encoding": "gzip" }, gzipSync("[".repeat(5_000)).subarray(0, 20)),
      400,
    ],
  ] as const)("is told so: %s", async (_what, call, status) => {
    const told = await call();
    expect(told.headers.get("content-type")).toMatch(/^application\/problem\+json/);
    expect([told.status, ((await told.json()) as Problem).status]).toEqual([status, status]);
  });
});

describe("every answer", () => {
  it("names its call, whatever name the caller brings", async () => {
    const told = await get("/health/live", { "x-request-id": "mine" });
    const name = told.headers.get("x-request-id")!;
    expect(name).toMatch(/^[0-9a-f-]{36}$/);
    const call = await eventually(() => calls.find(({ callId }) => callId === name) ?? null);
    expect(call).toMatchObject({ routeId: "live", method: "GET", status: 200, isStream: false, brokenOff: false });
    expect(call.actor).toEqual({ kind: "person", id: "everybody" });
  });

  it("is for our own page alone, and is kept by nobody", async () => {
    const { headers } = await get("/health/live");
    expect(headers.get("content-security-policy")).toMatch(/^default-src 'none';/);
    expect(headers.get("content-security-policy")).not.toMatch(/unsafe|https:|\*/);
    expect(Object.fromEntries(headers)).toMatchObject({
      "cache-control": "no-store",
      "cross-origin-opener-policy": "same-origin",
      "cross-origin-resource-policy": "same-origin",
      "referrer-policy": "no-referrer",
      "x-content-type-options": "nosniff",
      "x-frame-options": "DENY",
    });
    expect(headers.get("x-powered-by")).toBeNull();
  });

  it("is refused under a name that is not ours", async () => {
    const asked = (host: string) => raw([`GET /health/live HTTP/1.1\r\nhost: ${host}\r\nconnection: close\r\n\r\n`], 0);
    for (const host of ["elsewhere.example", "localhost.elsewhere.example:80", "127.0.0.2", "", "a b"]) {
      expect(await asked(host)).toMatch(/^HTTP\/1\.1 (421|400) /);
    }
    for (const host of ["localhost", "LOCALHOST:8080", "127.0.0.1:1"]) {
      expect(await asked(host)).toMatch(/^HTTP\/1\.1 200 /);
    }
  });

  it("of a server that is stopping says so to whoever asks whether it is ready", async () => {
    expect((await get("/health/ready")).status).toBe(200);
    isClosing = true;
    const told = await get("/health/ready");
    expect([told.status, told.headers.get("retry-after")]).toEqual([503, "5"]);
    expect((await get("/health/live")).status).toBe(200);
    isClosing = false;
  });
});
