import pg from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import { access, everybody } from "../../support/acting.ts";
import { idleQueue } from "../../support/idleQueue.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase, temporaryFolder } from "../../support/servers.ts";
import { troubledLine } from "../../support/troubledLine.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let line: Awaited<ReturnType<typeof troubledLine>>;
let store: Store;
let api: Listening;
let origin: string;
let judge: ReturnType<typeof openApiJudge>;
let direct: pg.Client;
const page = temporaryFolder();
const errors: string[] = [];
const unhandled: unknown[] = [];
const onUnhandled = (error: unknown) => unhandled.push(error);

beforeAll(async () => {
  process.on("unhandledRejection", onUnhandled);
  process.on("uncaughtException", onUnhandled);
  database = await startTestDatabase();
  const url = new URL(database.databaseUrl);
  line = await troubledLine(Number(url.port));
  url.port = String(line.port);
  store = await connectStore({ databaseUrl: url.href, onConnectionError: () => undefined });
  direct = new pg.Client({ connectionString: database.databaseUrl });
  await direct.connect();
  const app = createApp({
    store,
    queue: idleQueue,
    runs: idleQueue,
    mover: createMover({ onError: (error) => errors.push(String(error)) }),
    maker: createViewMaker({ onError: (error) => errors.push(String(error)) }),
    access,
    onError: (error) => errors.push(String(error)),
    authenticate: async () => ({ status: "known", actor: everybody }),
    pageFolder: page.folder,
  });
  const bound = await listen(app, { host: "127.0.0.1", port: 18_280, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  api = bound.api;
  origin = `http://127.0.0.1:${api.port}`;
  judge = openApiJudge((await (await fetch(`${origin}/api/openapi.json`)).json()) as Record<string, unknown>);
});
afterAll(async () => {
  await api.close();
  await store.close();
  await line.close();
  await direct.end();
  await database.stop();
  page.remove();
  process.off("unhandledRejection", onUnhandled);
  process.off("uncaughtException", onUnhandled);
});

async function call<T>(method: "GET" | "POST", path: string, body?: unknown) {
  const began = performance.now();
  const response = await fetch(`${origin}${path}`, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { "content-type": "application/json" } }),
  });
  const text = await response.text();
  judge(method, path, response, text);
  return {
    status: response.status,
    retryAfter: response.headers.get("retry-after"),
    body: JSON.parse(text) as T,
    tookMs: performance.now() - began,
  };
}
const named = (name: string) => smallOperation({ settings: { name } });
const importNamed = (name: string) => call<{ operation: { id: string } }>("POST", "/api/operations", named(name));
const isThereAgain = () =>
  eventually(async () => ((await call("GET", "/api/operations")).status === 200 ? true : null), 20_000);

const some = "00000000-0000-4000-8000-000000000001";
const calls = [
  ["GET", "/api/operations"],
  ["GET", `/api/operations/${some}`],
  ["GET", `/api/plans/${some}/week`],
  ["GET", `/api/plan-requests/${some}`],
  ["POST", `/api/plan-requests/${some}/cancel`],
  ["POST", `/api/operations/${some}/plans`, { seconds: 1 }],
  ["POST", "/api/operations", named("asked for while it was down")],
] as const;

describe("an API whose database is in trouble", () => {
  it("says 503 and when to come back while the database is gone, and works when it is there again", async () => {
    expect((await importNamed("before")).status).toBe(201);
    await line.close();
    for (const [method, path, body] of calls) {
      const told = await call<Problem>(method, path, body);
      expect([path, told.status]).toEqual([path, 503]);
      expect(Number(told.retryAfter)).toBeGreaterThan(0);
      expect(told.body.detail).toMatch(/database/);
      expect(told.tookMs).toBeLessThan(4_000);
    }
    await line.open();
    await isThereAgain();
    const { body } = await call<{ operations: { name: string }[] }>("GET", "/api/operations");
    expect(body.operations.map(({ name }) => name)).toEqual(["before"]);
  });

  it("does not wait for a database that says nothing any more", async () => {
    await call("GET", "/api/operations");
    line.silence();
    const told = await Promise.all(Array.from({ length: 20 }, () => call("GET", "/api/operations")));
    expect(told.map(({ status }) => status)).toEqual(told.map(() => 503));
    expect(Math.max(...told.map(({ tookMs }) => tookMs))).toBeLessThan(25_000);
    await line.close();
    await line.open();
    await isThereAgain();
  }, 60_000);

  it("tells a stream's reader of the end, though the database was gone in the middle", async () => {
    const { id } = (await importNamed("followed")).body.operation;
    const { body: request } = await call<PlanRequest>("POST", `/api/operations/${id}/plans`, { iterations: 1 });
    const stream = await fetch(`${origin}/api/plan-requests/${request.id}/events`);
    const text = stream.text();
    await line.close();
    await new Promise((resolve) => setTimeout(resolve, 1_000));
    await line.open();
    await isThereAgain();
    expect((await call("POST", `/api/plan-requests/${request.id}/cancel`)).status).toBe(200);
    expect(await text).toMatch(/event: done\ndata: .*"status":"cancelled"/);
  });

  it("stores all or nothing, and knows what it has stored, while connections are lost again and again", async () => {
    let over = false;
    let answered = 0;
    const cutting = (async () => {
      for (let seen = 0, cuts = 0; !over && cuts < 25; ) {
        await new Promise((resolve) => setTimeout(resolve, 5));
        // Between two cuts somebody gets through, however slow the machine is.
        if (answered === seen) continue;
        seen = answered;
        line.cut();
        cuts++;
      }
    })();
    const names = Array.from({ length: 40 }, (_, at) => `cut ${at}`);
    const statuses = new Map<number, number>();
    const next = names.values();
    await Promise.all(
      Array.from({ length: 12 }, async () => {
        for (const name of next) {
          for (let status = 0; status !== 201 && status !== 200; ) {
            ({ status } = await importNamed(name));
            statuses.set(status, (statuses.get(status) ?? 0) + 1);
            if (status !== 503) answered++;
          }
        }
      }),
    );
    over = true;
    await cutting;
    await isThereAgain();
    // 200: it was stored by a call whose answer was lost.
    expect([...statuses.keys()].filter((status) => ![200, 201, 503].includes(status))).toEqual([]);
    expect(statuses.get(503) ?? 0).toBeGreaterThan(3);
    const stored = (
      await call<{ operations: { name: string; version: number }[] }>("GET", "/api/operations")
    ).body.operations.filter(({ name }) => name.startsWith("cut "));
    expect(new Map(stored.map(({ name, version }) => [name, version]))).toEqual(
      new Map(names.map((name) => [name, 1])),
    );
    const { rows } = await direct.query<{ halves: number }>(
      "select count(*)::int as halves from operations o where not exists (select from operation_versions where operation_id = o.id)",
    );
    expect(rows).toEqual([{ halves: 0 }]);
  }, 120_000);

  it("says so when there is no room left, stores nothing, and goes on reading", async () => {
    await direct.query(`
      create function no_room() returns trigger language plpgsql as $$
        begin raise exception 'could not extend file: No space left on device' using errcode = '53100'; end $$;
      create trigger no_room before insert on audit execute function no_room();`);
    const told = await call<Problem>("POST", "/api/operations", named("no room"));
    expect(told).toMatchObject({ status: 503, retryAfter: "60" });
    expect(told.body.detail).toMatch(/no room/);
    await direct.query("drop trigger no_room on audit");
    const { body } = await call<{ operations: { name: string }[] }>("GET", "/api/operations");
    expect(body.operations.map(({ name }) => name)).not.toContain("no room");
    expect((await importNamed("no room")).status).toBe(201);
  });

  it("has had no error that nobody was there for", () => {
    expect(unhandled).toEqual([]);
    expect(errors.length).toBeGreaterThan(0);
    expect(errors.filter((error) => /TypeError|RangeError|ZodError/.test(error))).toEqual([]);
  });
});
