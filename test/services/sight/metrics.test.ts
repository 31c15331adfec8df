import { describe, expect, it } from "vitest";
import { createMetrics } from "../../../services/sight/metrics.ts";
import { serveMetrics } from "../../../services/sight/metricsServer.ts";
import { parseExposition, sampleValue } from "../../support/exposition.ts";

const call = {
  callId: "c",
  routeId: "plan",
  method: "GET",
  status: 200,
  durationMs: 120,
  actor: null,
  isStream: false,
  brokenOff: false,
};
const job = {
  queue: "plans",
  ending: "done",
  seconds: 12,
  starts: 1,
  gapFrac: 0.08,
  firstPlanSeconds: 0.7,
  windows: 12,
} as const;

describe("figures", () => {
  it("are those of this process and of others beside each other, in the form that is read elsewhere", async () => {
    const api = createMetrics("api", {
      backlog: async () => [
        { queue: "plans", state: "queued", count: 7 },
        { queue: "parts", state: "running", count: 2 },
      ],
      pool: () => ({ open: 3, idle: 2, waiting: 1 }),
    });
    const worker = createMetrics("worker", null);
    api.onCall(call);
    api.onCall({ ...call, status: 503, durationMs: 2 });
    api.onCall({ ...call, routeId: null, method: "BREW" });
    api.onCall({ ...call, routeId: "planRequestEvents", isStream: true });
    api.onError("unreachable");
    api.onWindows(5);
    worker.onJob(job);
    worker.onJob({ ...job, ending: "threw", starts: 2, gapFrac: null, firstPlanSeconds: null });

    const text = await api.text([JSON.parse(JSON.stringify(await worker.figures())) as object[]]);
    const samples = parseExposition(text);
    const value = (name: string, labels: Record<string, string>) => sampleValue(samples, name, labels);
    const ofCall = { route: "plan", method: "GET", part: "api" };
    expect(value("calmhour_http_request_seconds_count", { ...ofCall, status: "200" })).toBe(1);
    expect(value("calmhour_http_request_seconds_sum", { ...ofCall, status: "200" })).toBeCloseTo(0.12, 9);
    expect(value("calmhour_http_request_seconds_bucket", { ...ofCall, status: "200", le: "0.1" })).toBe(0);
    expect(value("calmhour_http_request_seconds_bucket", { ...ofCall, status: "200", le: "0.25" })).toBe(1);
    expect(value("calmhour_http_request_seconds_count", { ...ofCall, status: "503" })).toBe(1);
    expect(value("calmhour_http_request_seconds_count", { route: "other", method: "other" })).toBe(1);
    expect(value("calmhour_streams_total", { route: "planRequestEvents" })).toBe(1);
    expect(value("calmhour_errors_total", { kind: "unreachable" })).toBe(1);
    expect(value("calmhour_windows_computed_total", { part: "api" })).toBe(5);
    expect(value("calmhour_windows_computed_total", { part: "worker" })).toBe(24);
    expect(value("calmhour_queue_pieces", { queue: "plans", state: "queued" })).toBe(7);
    expect(value("calmhour_queue_pieces", { queue: "parts", state: "running" })).toBe(2);
    expect(value("calmhour_store_up", {})).toBe(1);
    expect(value("calmhour_store_connections", { state: "waiting" })).toBe(1);
    expect(value("calmhour_job_seconds_count", { ending: "done", part: "worker" })).toBe(1);
    expect(value("calmhour_job_retries_total", { queue: "plans" })).toBe(1);
    expect(value("calmhour_plan_gap_ratio_count", { part: "worker" })).toBe(1);
    expect(value("calmhour_first_plan_seconds_sum", { part: "worker" })).toBeCloseTo(0.7, 9);
    for (const part of ["api", "worker"])
      expect(value("nodejs_eventloop_lag_seconds", { part })).toBeGreaterThanOrEqual(0);
  });

  it("tell when the store does not answer, and leave out what only it knows", async () => {
    const api = createMetrics("api", { backlog: async () => null, pool: () => ({ open: 0, idle: 0, waiting: 0 }) });
    const samples = parseExposition(await api.text([]));
    expect(sampleValue(samples, "calmhour_store_up", {})).toBe(0);
    expect(samples.filter(({ name }) => name === "calmhour_queue_pieces")).toEqual([]);
  });

  it("stay few, whatever is asked for", async () => {
    const api = createMetrics("api", null);
    for (let at = 0; at < 500; at++) {
      api.onCall({ ...call, callId: `${at}`, routeId: null, method: `M${at}`, durationMs: at, status: 404 });
    }
    const samples = parseExposition(await api.text([]));
    expect(samples.filter(({ name }) => name === "calmhour_http_request_seconds_count")).toHaveLength(1);
  });

  it("are read at one address of a port of their own", async () => {
    const metrics = createMetrics("api", null);
    const server = await serveMetrics("127.0.0.1", 0, () => metrics.text([]));
    const told = await fetch(`http://127.0.0.1:${server.port}/metrics`);
    expect(told.headers.get("content-type")).toMatch(/^text\/plain; version=0\.0\.4/);
    expect(parseExposition(await told.text()).length).toBeGreaterThan(20);
    expect((await fetch(`http://127.0.0.1:${server.port}/`)).status).toBe(404);
    expect((await fetch(`http://127.0.0.1:${server.port}/metrics`, { method: "POST" })).status).toBe(404);
    await server.close();
  });
});
