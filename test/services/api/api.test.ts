import { randomUUID } from "node:crypto";
import { request as httpRequest } from "node:http";
import { describe, expect, it } from "vitest";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Fault, Problem } from "../../../shared/contracts/problem.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { richOperation } from "../../support/richOperation.ts";
import { serveApi } from "./serveApi.ts";

const { call, get, post, follow, importOperation, origin, port, listenAgain } = serveApi();

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
      const response = await fetch(`${origin()}${path}`);
      expect(response.status).toBe(404);
      expect(response.headers.get("content-type")).toContain("application/problem+json");
    }
  });

  it("do not stop the server when they break off in the middle", async () => {
    await new Promise<void>((resolve) => {
      const broken = httpRequest(`${origin()}/api/operations`, {
        method: "POST",
        headers: { ...json, "content-length": 1000 },
      });
      broken.on("error", () => resolve());
      broken.write("{");
      setTimeout(() => broken.destroy(new Error("gone")), 50);
    });
    expect((await get("/health/ready")).status).toBe(200);
  });
});

describe("the server", () => {
  it("says that it is well", async () => {
    expect((await get("/health/ready")).body).toEqual({ status: "ready", database: "answers", queue: "answers" });
    expect((await get("/health/live")).body).toEqual({ status: "alive" });
  });

  it("serves the page under a policy that lets only its own scripts run", async () => {
    const response = await fetch(`${origin()}/`);
    expect(await response.text()).toContain("the page");
    const policy = response.headers.get("content-security-policy")!;
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toMatch(/script-src[^;]*unsafe/);
    expect(response.headers.get("x-powered-by")).toBeNull();
  });

  it("has an OpenAPI document whose parameters are those of its addresses", async () => {
    const document = (await (await fetch(`${origin()}/api/openapi.json`)).json()) as {
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
    const other = await listenAgain(port(), true);
    expect(other.status === "listening" && other.api.port).toBeGreaterThan(port());
    if (other.status === "listening") await other.api.close();
    expect(await listenAgain(port(), false)).toEqual({ status: "portTaken", port: port() });
  });
});
