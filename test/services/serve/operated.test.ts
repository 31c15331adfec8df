import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { processFacts } from "../../../services/store/embedded/processes.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import { parseExposition, sampleValue } from "../../support/exposition.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, freePort, temporaryFolder } from "../../support/servers.ts";

const script = fileURLToPath(new URL("./runServe.ts", import.meta.url));
const clock = new URL("./shiftedClock.mjs", import.meta.url).href;
const password = "calm at five in the morning";

let data: ReturnType<typeof temporaryFolder>;
let child: ChildProcess;
let origin: string;
let metricsPort: number;
let log = "";
let console_ = "";
let exit: Promise<number | null>;
/** Everything that opens a door, to be looked for in the log. */
const secrets = new Set<string>([password]);
const session = { cookie: "", "x-csrf-token": "" };

const setClock = async (offsetMs: number) => {
  writeFileSync(join(data.folder, "clock"), String(offsetMs));
  // As long as the processes take to see it.
  await new Promise((resolve) => setTimeout(resolve, 300));
};

beforeAll(async () => {
  data = temporaryFolder();
  const port = await freePort();
  metricsPort = await freePort();
  origin = `http://127.0.0.1:${port}`;
  child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), script], {
    detached: true,
    stdio: ["ignore", "pipe", "pipe"],
    env: {
      ...process.env,
      CALMHOUR_DATA: data.folder,
      PORT: String(port),
      DATABASE_URL: "",
      REDIS_URL: "",
      CALMHOUR_DRAIN_SECONDS: "0",
      CALMHOUR_LOG: "json",
      CALMHOUR_METRICS_PORT: String(metricsPort),
      CALMHOUR_THREADS: "1",
      CLOCK_FILE: join(data.folder, "clock"),
      NODE_OPTIONS: `--import ${clock}`,
    },
  });
  exit = new Promise((resolve) => child.once("exit", resolve));
  child.once("exit", (code, signal) => {
    if (!isOver && code !== 0) console.error(`Calmhour has ended (${signal ?? code}):\n${console_.slice(-3_000)}`);
  });
  child.stdout!.on("data", (chunk: Buffer) => {
    log += chunk.toString();
  });
  child.stderr!.on("data", (chunk: Buffer) => {
    console_ += chunk.toString();
  });
  const link = await eventually(() => /#first\/(\S+)/.exec(console_)?.[1] ?? null, 60_000);
  secrets.add(link);
  secrets.add(readFileSync(join(data.folder, "postgres", "made", "password"), "utf8").trim());
  const response = await fetch(`${origin}/api/first-start`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ link, name: "ada", shownName: "Ada Berg", password }),
  });
  expect(response.status).toBe(200);
  session.cookie = response.headers.get("set-cookie")!.split(";")[0]!;
  session["x-csrf-token"] = ((await response.json()) as { csrfToken: string }).csrfToken;
  secrets.add(session.cookie.split("=")[1]!);
  secrets.add(session["x-csrf-token"]);
}, 120_000);
let isOver = false;
afterAll(async () => {
  isOver = true;
  for (const pid of [child.pid!]) if (processFacts(pid)) process.kill(-pid, "SIGKILL");
  await exit;
  data.remove();
});

const call = (path: string, init: RequestInit = {}) =>
  fetch(`${origin}${path}`, { ...init, headers: { ...session, "content-type": "application/json", ...init.headers } });
async function told<T>(path: string, body?: unknown): Promise<T> {
  const response = await call(path, body === undefined ? {} : { method: "POST", body: JSON.stringify(body) });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return (await response.json()) as T;
}
const entries = () =>
  log
    .split("\n")
    .slice(0, -1)
    .map((line) => JSON.parse(line) as Record<string, unknown>);
const entryOf = (callId: string | null) => entries().find((entry) => entry.callId === callId);

async function askForPlan(iterations: number): Promise<string> {
  const name = "operated";
  const { operation } = await told<{ operation: OperationSummary }>(
    "/api/operations",
    smallOperation({ settings: { name } }),
  );
  return (await told<PlanRequest>(`/api/operations/${operation.id}/plans`, { iterations })).id;
}
const done = (id: string) =>
  eventually(async () => {
    const response = await call(`/api/plan-requests/${id}`);
    const request = response.ok ? ((await response.json()) as PlanRequest) : null;
    return request?.endedAt ? request : null;
  }, 90_000);
const serverPid = () =>
  Number.parseInt(readFileSync(join(data.folder, "postgres", "made", "cluster", "postmaster.pid"), "utf8"), 10);

describe("a Calmhour that is left running", () => {
  it("does its work though the clock jumps forth and back by hours", async () => {
    // The demo's first plan keeps the worker; it is not needed here.
    const demo = await eventually(
      async () => (await told<{ operations: OperationSummary[] }>("/api/operations")).operations[0] ?? null,
    );
    for (const { id } of (await told<{ planRequests: PlanRequest[] }>(`/api/operations/${demo.id}/plans`))
      .planRequests) {
      await call(`/api/plan-requests/${id}/cancel`, { method: "POST" });
    }
    const hourMs = 3_600_000;
    for (const offsetMs of [6 * hourMs, -6 * hourMs, 0]) {
      await setClock(offsetMs);
      const { headers } = await call("/api/operations");
      const { time } = await eventually(() => entryOf(headers.get("x-request-id")) ?? null);
      // Else nothing was tried.
      expect(Math.abs(Date.parse(String(time)) - Date.now() - offsetMs)).toBeLessThan(60_000);
      expect(await done(await askForPlan(50))).toMatchObject({ status: "done", failure: null });
    }
  }, 120_000);

  it("comes back when its database is killed under load, with what was promised", async () => {
    const id = await askForPlan(3_000);
    let over = false;
    const statuses = new Map<number, number>();
    const load = Promise.all(
      Array.from({ length: 6 }, async () => {
        while (!over) {
          const { status } = await call("/api/operations");
          statuses.set(status, (statuses.get(status) ?? 0) + 1);
          await new Promise((resolve) => setTimeout(resolve, 20));
        }
      }),
    );
    for (let kill = 0; kill < 2; kill++) {
      const killed = serverPid();
      process.kill(killed, "SIGKILL");
      await eventually(async () => {
        const response = await fetch(`${origin}/health/ready`);
        await response.text();
        return response.ok && serverPid() !== killed ? true : null;
      }, 60_000);
    }
    over = true;
    await load;
    expect([...statuses.keys()].filter((status) => status !== 200 && status !== 503)).toEqual([]);
    expect(statuses.get(503) ?? 0).toBeGreaterThan(0);
    expect(await done(id)).toMatchObject({ status: "done", planId: id });
  }, 180_000);

  it("tells in figures what it has done, at a port of its own", async () => {
    const text = await (await fetch(`http://127.0.0.1:${metricsPort}/metrics`)).text();
    const samples = parseExposition(text);
    const value = (name: string, labels: Record<string, string>) => sampleValue(samples, name, labels);
    expect(value("calmhour_store_up", {})).toBe(1);
    expect(
      value("calmhour_http_request_seconds_count", {
        route: "listOperations",
        method: "GET",
        status: "200",
        part: "api",
      }),
    ).toBeGreaterThan(0);
    expect(value("calmhour_job_seconds_count", { queue: "plans", ending: "done", part: "worker" })).toBeGreaterThan(2);
    expect(value("calmhour_errors_total", { kind: "unreachable", part: "api" })).toBeGreaterThan(0);
    expect(value("calmhour_queue_pieces", { queue: "plans", state: "queued" })).toBe(0);
    expect((await call("/metrics")).status).toBe(404);
  });

  it("tells in its log what has happened, by calls and jobs, and nothing that opens a door", async () => {
    const { secret: token } = await told<{ secret: string }>("/api/tokens", { name: "t", readOnly: true });
    secrets.add(token);
    const byToken = await fetch(`${origin}/api/operations`, { headers: { authorization: `Bearer ${token}` } });
    expect(byToken.status).toBe(200);
    const asked = await call("/api/operations?secret=in-the-query");
    secrets.add("in-the-query");
    const wrong = await fetch(`${origin}/api/session`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ name: "ada", password: "not this one" }),
    });
    expect(wrong.status).toBe(401);
    secrets.add("not this one");

    child.kill("SIGTERM");
    expect(await exit).toBe(0);
    expect(entryOf(asked.headers.get("x-request-id"))).toMatchObject({
      what: "call",
      route: "listOperations",
      method: "GET",
      status: asked.status,
      actorKind: "person",
    });
    const jobs = entries().filter(({ what }) => what === "job");
    expect(jobs.length).toBeGreaterThan(2);
    expect(jobs[0]).toMatchObject({
      part: "worker",
      queue: "plans",
      jobId: expect.any(String),
      ms: expect.any(Number),
    });
    expect(jobs.some(({ ending }) => ending === "done")).toBe(true);
    for (const secret of secrets) {
      expect(secret.length).toBeGreaterThan(8);
      expect([secret.slice(0, 4), log.includes(secret)]).toEqual([secret.slice(0, 4), false]);
    }
    // The console has the link alone, for whoever starts it.
    expect(console_).toContain("#first/");
  }, 60_000);
});
