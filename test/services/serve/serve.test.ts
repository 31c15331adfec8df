import { type ChildProcess, spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { processFacts } from "../../../services/store/embedded/processes.ts";
import type { Comparison } from "../../../shared/cases/comparison.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import { hasEnded, type PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Study } from "../../../shared/contracts/studies.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { richOperation } from "../../support/richOperation.ts";
import { eventually, freePort, temporaryFolder } from "../../support/servers.ts";

const script = fileURLToPath(new URL("./runServe.ts", import.meta.url));
const planSeconds = 4;

let data: ReturnType<typeof temporaryFolder>;
let port: number;
let child: ChildProcess;
let said = "";

beforeAll(async () => {
  data = temporaryFolder();
  port = await freePort();
});
afterAll(async () => {
  await killEverything();
  data.remove();
});

async function start(): Promise<void> {
  said = "";
  // A group of its own, so that all of it can be killed at once.
  child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), script], {
    detached: true,
    stdio: ["ignore", "pipe", "inherit"],
    env: {
      ...process.env,
      CALMHOUR_DATA: data.folder,
      PORT: String(port),
      DATABASE_URL: "",
      REDIS_URL: "",
      CALMHOUR_DRAIN_SECONDS: "0",
    },
  });
  child.stdout!.on("data", (chunk: Buffer) => {
    said += chunk.toString();
  });
  await eventually(() => (said.includes(`http://127.0.0.1:${port}`) ? true : null), 40_000);
}

const cluster = () => join(data.folder, "postgres", "made", "cluster");
const serverPid = () => Number.parseInt(readFileSync(join(cluster(), "postmaster.pid"), "utf8"), 10);

function childrenOf(parent: number): { pid: number; command: string }[] {
  return readdirSync("/proc")
    .map(Number)
    .filter((pid) => pid > 0 && processFacts(pid)?.parentPid === parent)
    .map((pid) => ({ pid, command: processFacts(pid)?.command ?? "" }));
}
const workerPid = () => childrenOf(child.pid!).find(({ command }) => command.includes("workerChild"))?.pid ?? null;

/** As a power cut would, every process of ours and of the database. */
async function killEverything(): Promise<void> {
  const pids = [child.pid!, workerPid()];
  const server = processFacts(child.pid!) ? serverPid() : null;
  const guardian = server === null ? null : (processFacts(server)?.parentPid ?? null);
  for (const group of [guardian, child.pid!]) {
    if (group === null) continue;
    try {
      process.kill(-group, "SIGKILL");
    } catch {
      // It has ended by itself.
    }
  }
  await eventually(() => ([...pids, server].every((pid) => pid === null || !processFacts(pid)) ? true : null));
}

/** What the browser of whoever has signed in sends along. */
const session = { cookie: "", csrfToken: "" };

/** By the link that the console prints when nobody can sign in yet. */
async function beginAsFirstPerson(): Promise<void> {
  // Printed after the address.
  const link = await eventually(() => /#first\/(\S+)\n/.exec(said)?.[1] ?? null);
  const response = await fetch(`http://127.0.0.1:${port}/api/first-start`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ link, name: "ada", shownName: "Ada Berg", password: "calm at five in the morning" }),
  });
  expect(response.status).toBe(200);
  session.cookie = response.headers.get("set-cookie")!.split(";")[0]!;
  session.csrfToken = ((await response.json()) as { csrfToken: string }).csrfToken;
}

async function ask<T>(path: string, init: RequestInit): Promise<T> {
  const headers = { ...init.headers, cookie: session.cookie, "x-csrf-token": session.csrfToken };
  const response = await fetch(`http://127.0.0.1:${port}${path}`, { ...init, headers });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return (await response.json()) as T;
}
const get = <T>(path: string) => ask<T>(path, {});
const post = <T>(path: string, body: unknown) =>
  ask<T>(path, { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json" } });

const operations = async () => (await get<{ operations: OperationSummary[] }>("/api/operations")).operations;
const reach = (id: string, isThere: (request: PlanRequest) => boolean, withinMs: number) =>
  eventually(async () => {
    const request = await get<PlanRequest>(`/api/plan-requests/${id}`);
    return isThere(request) ? request : null;
  }, withinMs);
const beingMade = (id: string) => reach(id, ({ progress }) => progress !== null, 30_000);
const ended = (id: string) => reach(id, ({ status }) => hasEnded(status), 60_000);

async function countInStore(requestId: string): Promise<{ plans: number; starts: number }> {
  const password = readFileSync(join(data.folder, "postgres", "made", "password"), "utf8").trim();
  const databasePort = Number(readFileSync(join(cluster(), "postmaster.pid"), "utf8").split("\n")[3]);
  const client = new pg.Client({
    host: "127.0.0.1",
    port: databasePort,
    user: "calmhour",
    password,
    database: "postgres",
  });
  await client.connect();
  try {
    const { rows } = await client.query<{ plans: number; starts: number }>(
      "select starts, (select count(*)::int from plans where request_id = r.id) as plans from plan_requests r where id = $1",
      [requestId],
    );
    return rows[0]!;
  } finally {
    await client.end();
  }
}

async function expectGoodPlan(requestId: string, operation: Operation): Promise<void> {
  const { plan } = await get<{ plan: Plan }>(`/api/plans/${requestId}`);
  expect(checkPlan(operation, plan).breaches).toEqual([]);
}

const named = (name: string): Operation => {
  const operation = richOperation();
  return { ...operation, settings: { ...operation.settings, name } };
};

describe("a served Calmhour", () => {
  const imported = Array.from({ length: 20 }, (_, index) => `operation ${index}`);
  let operationId: string;
  const request = () => post<PlanRequest>(`/api/operations/${operationId}/plans`, { seconds: planSeconds });

  it("finishes a plan once whose worker is killed in the middle", async () => {
    await start();
    await beginAsFirstPerson();
    // The demo's first plan would keep the worker for ten seconds.
    const demo = await eventually(async () => (await operations())[0] ?? null);
    for (const { id } of (await get<{ planRequests: PlanRequest[] }>(`/api/operations/${demo.id}/plans`))
      .planRequests) {
      await post(`/api/plan-requests/${id}/cancel`, {});
    }
    for (const name of imported) await post("/api/operations", named(name));
    operationId = (await operations()).find(({ name }) => name === imported[0])!.id;

    const { id } = await request();
    await beingMade(id);
    const killed = workerPid()!;
    process.kill(killed, "SIGKILL");
    expect(await ended(id)).toMatchObject({ status: "done", failure: null, planId: id });
    expect(workerPid()).not.toBe(killed);
    expect(await countInStore(id)).toEqual({ plans: 1, starts: 2 });
    await expectGoodPlan(id, named(imported[0]!));
  }, 90_000);

  it("loses nothing when all of it is killed in the middle, the database too", async () => {
    const before = await operations();
    expect(before.map(({ name }) => name)).toEqual(expect.arrayContaining(imported));
    const { id } = await request();
    await beingMade(id);
    await killEverything();

    await start();
    expect(await operations()).toEqual(before);
    expect(await ended(id)).toMatchObject({ status: "done", failure: null, planId: id });
    expect(await countInStore(id)).toEqual({ plans: 1, starts: 2 });
    await expectGoodPlan(id, named(imported[0]!));
  }, 90_000);

  it("ends its worker and its database when it is killed alone", async () => {
    const [worker, server] = [workerPid()!, serverPid()];
    child.kill("SIGKILL");
    await eventually(() => (processFacts(worker) || processFacts(server) ? null : true));
  });

  it("stops everything on SIGTERM, gives back the plan that was being made, and finishes it at the next start", async () => {
    await start();
    const { id } = await request();
    await beingMade(id);
    const [worker, server] = [workerPid()!, serverPid()];
    const exit = new Promise<number | null>((resolve) => child.once("exit", resolve));
    child.kill("SIGTERM");
    expect(await exit).toBe(0);
    expect([worker, server].map(processFacts)).toEqual([null, null]);

    await start();
    expect(await ended(id)).toMatchObject({ status: "done", planId: id });
    // A clean stop does not count as a start that failed.
    expect(await countInStore(id)).toEqual({ plans: 1, starts: 1 });
  }, 60_000);

  it("finishes a study whose worker is killed in the middle, and a plan that is wanted meanwhile", async () => {
    const { fleet } = named(imported[0]!);
    const cases = {
      formatVersion: 1,
      cases: [
        { id: "away", name: "A crew away", changes: [{ kind: "takeCrew", crewId: fleet.crews[0]!.id }] },
        { id: "calm", name: "Calmer", changes: [{ kind: "changeWeather", windFactor: 0.8 }] },
      ],
      budget: { iterations: 400 },
      seeds: 2,
      weeksPerYear: 30,
      interestPct: 5,
    };
    const { caseSet } = await post<{ caseSet: { id: string } }>(`/api/operations/${operationId}/case-sets`, {
      name: "studied",
      cases,
    });
    const { id } = await post<Study>(`/api/case-sets/${caseSet.id}/studies`, {});
    const study = (isThere: (study: Study) => boolean) =>
      eventually(async () => {
        const told = await get<Study>(`/api/studies/${id}`);
        return isThere(told) ? told : null;
      }, 120_000);
    await study(({ status }) => status === "running");
    process.kill(workerPid()!, "SIGKILL");
    const plan = await request();
    expect(await ended(plan.id)).toMatchObject({ status: "done" });
    const done = await study(({ status }) => hasEnded(status));
    expect(done).toMatchObject({ status: "done", progress: { parts: 3, ended: 3, failed: 0 } });
    const { base, cases: told, failed } = done.result as Comparison;
    expect([base.runs, ...told.map(({ runs }) => runs), failed.length]).toEqual([2, 2, 2, 0]);
  }, 240_000);

  it("does not start a second time on the same data", async () => {
    const second = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), script], {
      stdio: ["ignore", "pipe", "inherit"],
      env: {
        ...process.env,
        CALMHOUR_DATA: data.folder,
        PORT: "",
        DATABASE_URL: "",
        REDIS_URL: "",
        CALMHOUR_DRAIN_SECONDS: "0",
      },
    });
    let words = "";
    second.stdout.on("data", (chunk: Buffer) => {
      words += chunk.toString();
    });
    const code = await new Promise((resolve) => second.once("exit", resolve));
    expect(code).toBe(1);
    expect(words).toContain("another Calmhour");
    expect(await get("/health/ready")).toMatchObject({ status: "ready" });
  });
});
