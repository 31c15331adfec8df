import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase } from "../../support/servers.ts";

const script = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
let operationId: string;
let children: ChildProcess[] = [];

beforeAll(async () => {
  database = await startTestDatabase();
});
afterAll(() => database.stop());
beforeEach(async () => {
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: () => undefined });
  operationId = (await store.importOperation(smallOperation({}), acting)).operation.id;
});
afterEach(async () => {
  for (const child of children) child.kill("SIGKILL");
  children = [];
  for (const { id } of await store.unfinishedRequests()) await store.requestCancel(id, acting);
  await store.close();
});

async function startWorker(drainSeconds: number) {
  const child = spawn(process.execPath, ["--import", import.meta.resolve("tsx"), script, "worker"], {
    stdio: ["ignore", "pipe", "inherit"],
    env: {
      ...process.env,
      DATABASE_URL: database.databaseUrl,
      REDIS_URL: "",
      CALMHOUR_THREADS: "1",
      CALMHOUR_RUNS: "1",
      CALMHOUR_DRAIN_SECONDS: String(drainSeconds),
    },
  });
  children.push(child);
  await new Promise<void>((resolve) => child.stdout.once("data", () => resolve()));
  const exit = new Promise<number | null>((resolve) => child.once("exit", resolve));
  return { child, exit };
}
const plan = (seconds: number) =>
  madeBy(store.addPlanRequest({ operationId, version: 1, budget: { seconds }, seed: 1 }, acting));
const beingMade = (id: string) =>
  eventually(async () => ((await store.planRequest(id))?.progress ? true : null), 60_000);

async function startsOf(id: string): Promise<number> {
  const client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
  const { rows } = await client.query<{ starts: number }>("select starts from plan_requests where id = $1", [id]);
  await client.end();
  return rows[0]!.starts;
}

describe("a worker that is told to end", { timeout: 120_000 }, () => {
  it("lets a plan come to its end for which there is time, and begins no other", async () => {
    const { id } = await plan(3);
    const { child, exit } = await startWorker(30);
    await beingMade(id);
    const { id: next } = await plan(3);
    child.kill("SIGTERM");
    expect(await exit).toBe(0);
    expect(await store.planRequest(id)).toMatchObject({ status: "done", planId: id });
    expect(await store.planRequest(next)).toMatchObject({ status: "queued", startedAt: null });
    expect(await startsOf(id)).toBe(1);
  });

  it("gives a plan back when its time is over, and the start does not count", async () => {
    const { id } = await plan(600);
    const { child, exit } = await startWorker(1);
    await beingMade(id);
    child.kill("SIGTERM");
    expect(await exit).toBe(0);
    expect(await store.planRequest(id)).toMatchObject({ status: "queued", progress: null });
    expect(await startsOf(id)).toBe(0);
  });

  it("gives it back at once when it is told again", async () => {
    const { id } = await plan(600);
    const { child, exit } = await startWorker(600);
    await beingMade(id);
    child.kill("SIGTERM");
    // What comes within a second is the same Ctrl-C.
    child.kill("SIGINT");
    await new Promise((resolve) => setTimeout(resolve, 1_500));
    expect(await store.planRequest(id)).toMatchObject({ status: "running" });
    child.kill("SIGTERM");
    expect(await exit).toBe(0);
    expect(await store.planRequest(id)).toMatchObject({ status: "queued" });
    expect(await startsOf(id)).toBe(0);
  });
});
