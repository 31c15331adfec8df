import { randomUUID } from "node:crypto";
import { mkdirSync, writeFileSync } from "node:fs";
import { request as httpRequest } from "node:http";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import type { PlanQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { type PlanWorker, startPlanWorker } from "../../../services/worker/planWorker.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Fault, Problem } from "../../../shared/contracts/problem.ts";
import type { OrderWindows } from "../../../shared/contracts/windows.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { type Situation, situationOf } from "../../shared/agronomy/oneOrder.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { richOperation } from "../../support/richOperation.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let page: ReturnType<typeof temporaryFolder>;
let store: Store;
let queue: PlanQueue;
let worker: PlanWorker;
let api: Listening;
let origin: string;
let judge: ReturnType<typeof openApiJudge>;
const errors: unknown[] = [];
const onError = (error: unknown) => errors.push(error);

beforeAll(async () => {
  database = await startTestDatabase();
  page = temporaryFolder();
  mkdirSync(join(page.folder, "dist"));
  writeFileSync(join(page.folder, "dist", "index.html"), "<!doctype html><title>the page</title>");
  const { databaseUrl } = database;
  const open = () => connectQueue({ databaseUrl, redisUrl: null, onConnectionError: onError });
  store = await connectStore({ databaseUrl, onConnectionError: onError });
  queue = await open();
  const threadScript = new URL("../../../services/worker/planThread.ts", import.meta.url);
  worker = await startPlanWorker({ store, queue: await open(), threadScript, stopWithinMs: 5_000, onError });
  const app = createApp({ store, queue, onError, pageFolder: join(page.folder, "dist") });
  const bound = await listen(app, { host: "127.0.0.1", port: 18_080, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  api = bound.api;
  origin = `http://127.0.0.1:${api.port}`;
  judge = openApiJudge((await (await fetch(`${origin}/api/openapi.json`)).json()) as Record<string, unknown>);
});
afterAll(async () => {
  await api.close();
  await worker.close();
  await queue.close();
  await store.close();
  await database.stop();
  page.remove();
  expect(errors).toEqual([]);
});

interface Told<T> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: T;
}

/** Every answer is judged by the OpenAPI document before it is looked at. */
async function call<T>(method: "GET" | "POST", path: string, init: RequestInit): Promise<Told<T>> {
  const response = await fetch(`${origin}${path}`, { method, ...init });
  const text = await response.text();
  judge(method, path, response, text);
  return { status: response.status, headers: response.headers, body: JSON.parse(text) as T };
}
const get = <T>(path: string) => call<T>("GET", path, {});
const post = <T>(path: string, body: unknown) =>
  call<T>("POST", path, { body: JSON.stringify(body), headers: { "content-type": "application/json" } });

const importOperation = (document: unknown) => post<{ operation: OperationSummary }>("/api/operations", document);

async function follow(path: string): Promise<{ event: string; data: unknown }[]> {
  const response = await fetch(`${origin}${path}`);
  const text = await response.text();
  judge("GET", path, response, text);
  return text
    .split("\n\n")
    .filter((block) => block.startsWith("event: "))
    .map((block) => {
      const [first, second] = block.split("\n");
      return { event: first!.slice("event: ".length), data: JSON.parse(second!.slice("data: ".length)) as unknown };
    });
}

describe("a plan by way of the API", () => {
  it("is asked for, followed and read, and holds before the checker", async () => {
    const operation = richOperation();
    const imported = await importOperation(operation);
    expect(imported.status).toBe(201);
    const { id, version } = imported.body.operation;
    expect(imported.headers.get("location")).toBe(`/api/operations/${id}/versions/${version}`);
    expect((await get<{ document: unknown }>(imported.headers.get("location")!)).body.document).toEqual(operation);
    expect((await importOperation(operation)).status).toBe(200);

    const asked = await post<PlanRequest>(`/api/operations/${id}/plans`, { seconds: 2, seed: 3 });
    expect(asked.status).toBe(202);
    expect(asked.body).toMatchObject({
      status: "queued",
      seconds: 2,
      iterations: null,
      seed: 3,
      operationId: id,
      version,
    });
    const location = asked.headers.get("location")!;
    expect(location).toBe(`/api/plan-requests/${asked.body.id}`);

    const events = await follow(`${location}/events`);
    expect(events.length).toBeGreaterThan(1);
    expect(events.slice(0, -1).every(({ event }) => event === "progress")).toBe(true);
    expect(events.at(-1)).toMatchObject({ event: "done", data: { status: "done", planId: asked.body.id } });
    // A stream that is opened after the end tells the end at once.
    expect((await follow(`${location}/events`)).at(-1)).toMatchObject({ event: "done" });

    const ended = (await get<PlanRequest>(location)).body;
    const { plan } = (await get<{ plan: Plan }>(`/api/plans/${ended.planId}`)).body;
    const report = checkPlan(operation, plan);
    expect(report.breaches).toEqual([]);
    expect((await get(`/api/plans/${ended.planId}/check`)).body).toEqual(report);
    expect((await get(`/api/plans/${ended.planId}/conflicts`)).body).toEqual({ conflicts: plan.conflicts });
    const week = (await get<{ servedHa: number }>(`/api/plans/${ended.planId}/week`)).body;
    expect(week.servedHa).toBe(plan.score.servedHa);
    expect(plan.crewDays.length).toBeGreaterThan(0);
    for (const { crewId, date } of plan.crewDays) {
      const sheet = await get<{ crewId: string; date: string }>(
        `/api/plans/${ended.planId}/crews/${crewId}/days/${date}`,
      );
      expect(sheet.body).toMatchObject({ crewId, date });
    }
    const none = await get<Problem>(`/api/plans/${ended.planId}/crews/nobody/days/2027-01-01`);
    expect(none.status).toBe(404);
    const { planRequests } = (await get<{ planRequests: PlanRequest[] }>(`/api/operations/${id}/plans`)).body;
    expect(planRequests).toEqual([ended]);
  });

  it("is planned for ten seconds with seed 1 when nothing is said, as the document states", async () => {
    const { id } = (await importOperation(richOperation())).body.operation;
    for (const init of [{}, { body: "{}", headers: { "content-type": "application/json" } }]) {
      const asked = await call<PlanRequest>("POST", `/api/operations/${id}/plans`, init);
      expect(asked.body).toMatchObject({ seconds: 10, iterations: null, seed: 1 });
      await call("POST", `/api/plan-requests/${asked.body.id}/cancel`, {});
    }
  });

  it("is cancelled while it is made", async () => {
    const { id } = (await importOperation(richOperation())).body.operation;
    const asked = await post<PlanRequest>(`/api/operations/${id}/plans`, { seconds: 600 });
    const following = follow(`/api/plan-requests/${asked.body.id}/events`);
    await expect
      .poll(async () => (await get<PlanRequest>(`/api/plan-requests/${asked.body.id}`)).body.progress, {
        timeout: 20_000,
      })
      .not.toBeNull();
    const stopped = await call<PlanRequest>("POST", `/api/plan-requests/${asked.body.id}/cancel`, {});
    expect(stopped.status).toBe(202);
    expect((await following).at(-1)).toMatchObject({ event: "done", data: { status: "cancelled" } });
    const again = await call<PlanRequest>("POST", `/api/plan-requests/${asked.body.id}/cancel`, {});
    expect(again).toMatchObject({ status: 200, body: { status: "cancelled", planId: asked.body.id } });
  });
});

describe("an operation that is faulty", () => {
  it("is refused whole, with every fault named at once", async () => {
    const document = structuredClone(richOperation()) as unknown as {
      orders: Record<string, unknown>[];
      settings: Record<string, unknown>;
    };
    document.orders[0]!.fieldId = "nowhere";
    document.orders[1]!.priceCentsPerHa = -5;
    document.settings.timeZone = "Mars/Olympus";
    document.settings.name = "never stored";
    const refused = await post<Problem>("/api/operations", document);
    expect(refused.status).toBe(422);
    expect(refused.headers.get("content-type")).toContain("application/problem+json");
    const places = (refused.body.faults as Fault[]).map(({ path }) => path.join("."));
    expect(places).toEqual(
      expect.arrayContaining(["orders.0.fieldId", "orders.1.priceCentsPerHa", "settings.timeZone"]),
    );
    const { operations } = (await get<{ operations: OperationSummary[] }>("/api/operations")).body;
    expect(operations.map(({ name }) => name)).not.toContain("never stored");
  });

  it.each([
    ["U+0000", "a\u0000b"],
    ["half a surrogate pair", "a\ud800b"],
  ])("is refused when a text holds %s, which cannot be stored", async (_what, name) => {
    const operation = richOperation();
    const refused = await post<Problem>("/api/operations", { ...operation, settings: { ...operation.settings, name } });
    expect(refused.status).toBe(422);
    expect(refused.body.faults?.map(({ path }) => path)).toContainEqual(["settings", "name"]);
  });

  it.each([[null], [[]], ["text"], [7], [{}]])("is refused when it is %j", async (document) => {
    const refused = await post<Problem>("/api/operations", document);
    expect(refused.status).toBe(422);
    expect(refused.body.faults!.length).toBeGreaterThan(0);
  });
});

describe("calls that are wrong", () => {
  const json = { "content-type": "application/json" };
  const plans = `/api/operations/${randomUUID()}/plans`;
  it.each<[string, number, "GET" | "POST", string, RequestInit]>([
    ["what is not JSON", 400, "POST", "/api/operations", { body: "{", headers: json }],
    ["no JSON type", 415, "POST", "/api/operations", { body: "{}", headers: { "content-type": "text/plain" } }],
    ["no body", 415, "POST", "/api/operations", {}],
    ["too large a body", 413, "POST", "/api/operations", { body: `"${"x".repeat(32_000_000)}"`, headers: json }],
    ["a call from another site's page", 403, "POST", plans, { headers: { "sec-fetch-site": "cross-site" } }],
    ["an unknown operation", 404, "GET", `/api/operations/${randomUUID()}`, {}],
    ["an id that is none", 404, "GET", "/api/operations/..%2f..%2fetc", {}],
    ["an unknown version", 404, "GET", `/api/operations/${randomUUID()}/versions/1`, {}],
    ["a version that is no number", 404, "GET", `/api/operations/${randomUUID()}/versions/x`, {}],
    ["a version beyond all numbers", 404, "GET", `/api/operations/${randomUUID()}/versions/99999999999999`, {}],
    ["a plan of an unknown operation", 404, "POST", plans, {}],
    ["seconds and iterations", 422, "POST", plans, { body: '{"seconds":1,"iterations":1}', headers: json }],
    ["seconds below zero", 422, "POST", plans, { body: '{"seconds":-1}', headers: json }],
    ["a member that is unknown", 422, "POST", plans, { body: '{"second":1}', headers: json }],
    ["an unknown request", 404, "GET", `/api/plan-requests/${randomUUID()}`, {}],
    ["events of an unknown request", 404, "GET", `/api/plan-requests/${randomUUID()}/events`, {}],
    ["cancelling an unknown request", 404, "POST", `/api/plan-requests/${randomUUID()}/cancel`, {}],
    ["an unknown plan", 404, "GET", `/api/plans/${randomUUID()}`, {}],
    ["the week of an unknown plan", 404, "GET", `/api/plans/${randomUUID()}/week`, {}],
    ["windows without a type", 400, "GET", `/api/operations/${randomUUID()}/orders/O-1/windows`, {}],
    ["windows of an unknown operation", 404, "GET", `/api/operations/${randomUUID()}/orders/O-1/windows?type=a`, {}],
  ])("get a problem: %s -> %i", async (_what, status, method, path, init) => {
    const { body, headers } = await call<Problem>(method, path, init);
    expect(body).toMatchObject({ status, type: "about:blank" });
    expect(headers.get("content-type")).toContain("application/problem+json");
  });

  it("get a problem at an address where there is nothing", async () => {
    for (const path of ["/api/nothing", "/nothing.html"]) {
      const response = await fetch(`${origin}${path}`);
      expect(response.status).toBe(404);
      expect(response.headers.get("content-type")).toContain("application/problem+json");
    }
  });

  it("do not stop the server when they break off in the middle", async () => {
    await new Promise<void>((resolve) => {
      const broken = httpRequest(`${origin}/api/operations`, {
        method: "POST",
        headers: { ...json, "content-length": 1000 },
      });
      broken.on("error", () => resolve());
      broken.write("{");
      setTimeout(() => broken.destroy(new Error("gone")), 50);
    });
    expect((await get("/api/health")).status).toBe(200);
  });
});

describe("windows", () => {
  it("tell for every hour of the horizon how much of it is open, and why not the rest", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const order = operation.orders[0]!;
    for (const type of operation.fleet.aircraftTypes) {
      const path = `/api/operations/${id}/orders/${order.id}/windows?type=${type.id}`;
      const { body } = await get<OrderWindows>(path);
      expect(body).toMatchObject({ orderId: order.id, aircraftTypeId: type.id, night: "no" });
      expect(body.hours).toHaveLength(24 * operation.settings.days);
      const openMin = body.hours.reduce((sum, hour) => sum + hour.openMin, 0);
      expect(openMin).toBe(body.windows.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0));
      for (const hour of body.hours) expect(hour.openMin === 60 || hour.judgements.length > 0).toBe(true);
    }
    const unknown = await get<Problem>(`/api/operations/${id}/orders/${order.id}/windows?type=nothing`);
    expect(unknown.status).toBe(404);
  });

  it("tell of every hour its risk of an inversion and how far the forecast is trusted", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const [order] = operation.orders;
    const [type] = operation.fleet.aircraftTypes;
    const { body } = await get<OrderWindows>(`/api/operations/${id}/orders/${order!.id}/windows?type=${type!.id}`);
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const told = agronomy.hours(order!, type!, { night: false });
    expect(body.hours.map(({ inversionRisk }) => inversionRisk)).toEqual(
      told.map(({ inversionRisk }) => inversionRisk),
    );
    expect(body.hours.map(({ judgements }) => judgements)).toEqual(told.map(({ judgements }) => judgements));
    const trust = body.hours.map(({ confidenceFrac }) => confidenceFrac);
    expect(trust).toEqual(trust.toSorted((a, b) => b - a));
    expect(trust[0]).toBeGreaterThan(trust.at(-1)!);
    expect(body.answer).toBeNull();
    expect(body.parts.map(({ part }) => part)).toEqual(agronomy.parts(order!).map(({ part }) => part));
  });

  it("answer why a time is open or not, as the agronomy does, and refuse a time outside the plan", async () => {
    const operation = richOperation();
    const { id } = (await importOperation(operation)).body.operation;
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const answers: boolean[] = [];
    for (const order of operation.orders.slice(0, 3)) {
      for (const type of operation.fleet.aircraftTypes) {
        const path = `/api/operations/${id}/orders/${order.id}/windows?type=${type.id}`;
        for (const part of ["strictest", "rest"] as const) {
          for (const clock of ["01:00", "10:30"]) {
            const at = `${operation.settings.firstDay}T${clock}`;
            const { body } = await get<OrderWindows>(`${path}&part=${part}&at=${at}`);
            const min = calendar.minOfLocal(at);
            const night = { night: false, ...(part === "rest" ? { rest: true as const } : {}) };
            expect(body.answer).toMatchObject({ min, sentence: agronomy.why(order, type, min, night) });
            const inWindow = body.windows.some(({ startMin, endMin }) => startMin <= min && min < endMin);
            expect(body.answer!.open).toBe(body.limits.length === 0 && inWindow);
            expect(body.answer!.judgements.length === 0).toBe(inWindow);
            answers.push(body.answer!.open);
          }
        }
        const outside = await get<Problem>(`${path}&at=2040-01-01T09:00`);
        expect(outside).toMatchObject({ status: 422, body: { faults: [{ path: ["at"] }] } });
        expect((await get<Problem>(`${path}&at=noon`)).status).toBe(400);
      }
    }
    expect(new Set(answers)).toEqual(new Set([true, false]));
  });

  // Clocks in Berlin go forward on 28 March 2027 from 02:00 to 03:00 and back on 31 October from 03:00 to 02:00 (IANA time zone database).
  it("answer a time that the clocks show twice for both times, and refuse one that they skip", async () => {
    const answered = async (firstDay: string) => {
      const operation = situationOf({ firstDay, days: 1, airOfHour: (hour) => ({ rainMm: hour === 2 ? 1 : 0 }) });
      const crews = operation.fleet.crews.map((crew) => ({ ...crew, shifts: [] }));
      const { id } = (await importOperation({ ...operation, fleet: { ...operation.fleet, crews } })).body.operation;
      return `/api/operations/${id}/orders/O-1/windows?type=HELI&night=yes&at=${firstDay}T02:30`;
    };
    const { body } = await get<OrderWindows>(await answered("2027-10-31"));
    expect(body).toMatchObject({
      answer: { at: "2027-10-31T02:30:00+02:00", min: 150, open: false, judgements: [{ limit: "rain" }] },
      alsoAt: { at: "2027-10-31T02:30:00+01:00", min: 210, open: true, judgements: [] },
    });
    expect(body.answer!.sentence).toContain("02:30 (first time): no");
    expect(body.alsoAt!.sentence).toContain("02:30 (second time): yes");

    const skipped = await get<Problem>(await answered("2027-03-28"));
    const expected = "a time that the clocks of Europe/Berlin show; they are put forward over 2027-03-28T02:30";
    expect(skipped).toMatchObject({
      status: 422,
      body: { faults: [{ path: ["at"], value: "2027-03-28T02:30", expected }] },
    });
    const plain = await get<OrderWindows>((await answered("2027-06-07")).replace("02:30", "09:00"));
    expect(plain.body).toMatchObject({ answer: { open: true }, alsoAt: null });
  });

  it("have no minute where buffers leave nothing or the rate cannot be flown", async () => {
    const nothingLeft: Situation = {
      labels: [{ buffers: [{ kind: "school", distanceM: 900 }] }],
      sensitive: [
        {
          type: "Feature",
          geometry: { type: "Point", coordinates: [11.046, 51.011] },
          properties: { id: "S1", kind: "school", name: "School" },
        },
      ],
    };
    const tooMuch: Situation = { order: { carrierLPerHa: 2000 } };
    for (const [limit, situation, parts] of [
      ["buffers", nothingLeft, []],
      ["rate", tooMuch, [expect.objectContaining({ part: "whole" })]],
    ] as const) {
      const { id } = (await importOperation(situationOf(situation))).body.operation;
      const path = `/api/operations/${id}/orders/O-1/windows?type=SMALL&at=2027-06-07T09:00`;
      const { body } = await get<OrderWindows>(path);
      expect(body).toMatchObject({ parts, limits: [{ limit }], windows: [] });
      expect(body.answer).toMatchObject({ open: false, judgements: [{ limit }] });
      expect(body.answer!.sentence).toContain("no, nor at any other time");
      for (const { openMin, judgements } of body.hours) expect([openMin, judgements[0]!.limit]).toEqual([0, limit]);
    }
  });
});

describe("the server", () => {
  it("says that it is well", async () => {
    expect((await get("/api/health")).body).toEqual({ status: "ok", database: "answers" });
  });

  it("serves the page under a policy that lets only its own scripts run", async () => {
    const response = await fetch(`${origin}/`);
    expect(await response.text()).toContain("the page");
    const policy = response.headers.get("content-security-policy")!;
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toMatch(/script-src[^;]*unsafe/);
    expect(response.headers.get("x-powered-by")).toBeNull();
  });

  it("has an OpenAPI document whose parameters are those of its addresses", async () => {
    const document = (await (await fetch(`${origin}/api/openapi.json`)).json()) as {
      openapi: string;
      paths: Record<string, Record<string, { operationId: string; parameters?: { name: string; in: string }[] }>>;
    };
    expect(document.openapi).toBe("3.1.0");
    const operations = Object.values(document.paths).flatMap((methods) => Object.values(methods));
    expect(new Set(operations.map(({ operationId }) => operationId)).size).toBe(operations.length);
    for (const [path, methods] of Object.entries(document.paths)) {
      const inPath = [...path.matchAll(/\{([^}]+)\}/g)].map(([, name]) => name);
      for (const { parameters = [] } of Object.values(methods)) {
        expect(parameters.filter((one) => one.in === "path").map(({ name }) => name)).toEqual(inPath);
      }
    }
  });

  it("takes the next port when one is taken, and says so when it may not", async () => {
    const app = createApp({ store, queue, onError, pageFolder: page.folder });
    const other = await listen(app, { host: "127.0.0.1", port: api.port, orNext: true });
    expect(other.status === "listening" && other.api.port).toBeGreaterThan(api.port);
    if (other.status === "listening") await other.api.close();
    const fixed = await listen(app, { host: "127.0.0.1", port: api.port, orNext: false });
    expect(fixed).toEqual({ status: "portTaken", port: api.port });
  });
});
