import { randomUUID } from "node:crypto";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { connectStore } from "../../../services/store/connect.ts";
import { startsMax } from "../../../services/store/starts.ts";
import type { PlanOutcome, Store } from "../../../services/store/store.ts";
import type { PlanRequest } from "../../../shared/contracts/planRequests.ts";
import { ruleNames } from "../../../shared/plan/check/report.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { emptyPlan } from "../../support/emptyPlan.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase } from "../../support/servers.ts";
import { silenceWorkers } from "../../support/silence.ts";

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
const connect = () =>
  connectStore({
    databaseUrl: database.databaseUrl,
    onConnectionError: () => undefined,
  });

beforeAll(async () => {
  database = await startTestDatabase();
  // Three at once on an empty database: the advisory lock lets one make the tables.
  const stores = await Promise.all([connect(), connect(), connect()]);
  store = stores[0]!;
  await Promise.all(stores.slice(1).map((one) => one.close()));
});
afterAll(async () => {
  await store.close();
  await database.stop();
});

const named = (name: string) => smallOperation({ settings: { name } });
const checked = Object.fromEntries(ruleNames.map((rule) => [rule, 1])) as Record<(typeof ruleNames)[number], number>;
const report = { ok: true, checked, breaches: [] };

async function newRequest(): Promise<PlanRequest> {
  const { operation } = await store.importOperation(named(`operation ${randomUUID()}`), acting);
  return madeBy(
    store.addPlanRequest(
      {
        operationId: operation.id,
        version: operation.version,
        budget: { seconds: 3 },
        seed: 7,
      },
      acting,
    ),
  );
}

describe("operations", () => {
  it("come back equal", async () => {
    const given = named("comes back");
    const { operation } = await store.importOperation(given, acting);
    expect(await store.operationSummary(operation.id)).toEqual(operation);
    expect((await store.latestOperation(operation.id))?.document).toEqual(given);
  });

  it("get a new version from a changed document only, and from a change back", async () => {
    const first = named("changes");
    const second = { ...first, orders: first.orders.slice(1) };
    const versions = [];
    for (const document of [first, structuredClone(first), second, first]) {
      const { outcome, operation } = await store.importOperation(document, acting);
      versions.push([outcome, operation.version]);
    }
    expect(versions).toEqual([
      ["newVersion", 1],
      ["sameDocument", 1],
      ["newVersion", 2],
      ["newVersion", 3],
    ]);
    const listed = (await store.listOperations()).filter(({ name }) => name === "changes");
    expect(listed.map(({ version }) => version)).toEqual([3]);
    expect((await store.operationVersion(listed[0]!.id, 2))?.document.orders).toEqual(second.orders);
  });

  it("are one however many import them at once", async () => {
    const outcomes = await Promise.all(
      Array.from({ length: 8 }, () => store.importOperation(named("at once"), acting)),
    );
    expect(new Set(outcomes.map(({ operation }) => `${operation.id} ${operation.version}`)).size).toBe(1);
    expect(outcomes.filter(({ outcome }) => outcome === "newVersion")).toHaveLength(1);
  });

  it("have the same digest whatever the order of their members", async () => {
    const document = named("order of members");
    const { operation } = await store.importOperation(document, acting);
    const turned = Object.fromEntries(Object.entries(document).reverse()) as typeof document;
    expect((await store.importOperation(turned, acting)).operation).toEqual(operation);
  });

  it("are changed one after the other, and stay as they are where a change fails", async () => {
    const { operation } = await store.importOperation(named("one after the other"), acting);
    const add = (note: string) =>
      store.changeOperation(
        operation.id,
        ({ document }) => {
          const orders = document.orders.map((order) => ({ ...order, notes: order.notes + note }));
          return { outcome: "changed", document: { ...document, orders } };
        },
        acting,
        { resource: "orders", key: note },
      );
    const notes = ["a", "b", "c", "d", "e"];
    await Promise.all(notes.map(add));
    const failed = store.changeOperation(
      operation.id,
      () => {
        throw new Error("a bug");
      },
      acting,
      {},
    );
    await expect(failed).rejects.toThrow("a bug");
    const refused = () => ({ outcome: "refused", refusal: "no" }) as const;
    expect(await store.changeOperation(operation.id, refused, acting, {})).toEqual(refused());
    expect(await store.changeOperation(randomUUID(), refused, acting, {})).toEqual({ outcome: "unknown" });
    const latest = await store.latestOperation(operation.id);
    expect(latest?.version).toBe(6);
    expect([...latest!.document.orders[0]!.notes].sort()).toEqual(notes);
    const listed = await store.versionsOf(operation.id, { most: 10, after: null });
    expect(listed.map(({ version }) => version)).toEqual([6, 5, 4, 3, 2, 1]);
    expect(listed.map(({ key }) => key ?? "").sort()).toEqual(["", ...notes]);
  });

  it("do not count among what people have told when they were derived of it", async () => {
    const { operation } = await store.importOperation(named("derived of"), acting);
    const client = new pg.Client({ connectionString: database.databaseUrl });
    await client.connect();
    await client.query(
      "insert into operation_versions (operation_id, version, digest, derived) select operation_id, 2, digest, true from operation_versions where operation_id = $1",
      [operation.id],
    );
    await client.end();
    expect((await store.latestOperation(operation.id))?.version).toBe(1);
    expect((await store.latestParts(operation.id, ["orders"]))?.operation.version).toBe(1);
    expect((await store.versionsOf(operation.id, { most: 9, after: null })).map(({ version }) => version)).toEqual([1]);
    const { orders } = named("derived of");
    const changed = await store.importOperation({ ...named("derived of"), orders: orders.slice(1) }, acting);
    expect(changed.operation.version).toBe(3);
  });

  it("are not there under an unknown id", async () => {
    expect(await store.latestOperation(randomUUID())).toBeNull();
    expect(await store.operationSummary(randomUUID())).toBeNull();
    expect(await store.operationVersion(randomUUID(), 1)).toBeNull();
  });
});

describe("plan requests", () => {
  it("go from queued through running to done, with one plan", async () => {
    const request = await newRequest();
    expect(request).toMatchObject({ status: "queued", seconds: 3, iterations: null, seed: 7, planId: null });
    expect(await store.unfinishedRequests()).toContainEqual({ id: request.id, kind: "plan" });

    const start = await store.startRequest(request.id);
    expect(start).toMatchObject({ status: "go", start: 1, alone: false, budget: { seconds: 3 }, seed: 7 });
    const progress = { iterations: 10, share: 0.5, servedHa: 12.5, totalCents: 100 };
    expect(await store.reportProgress(request.id, 1, progress)).toBe("goOn");
    expect(await store.reportProgress(request.id, 1, null)).toBe("goOn");
    expect(await store.planRequest(request.id)).toMatchObject({ status: "running", progress });

    const plan = emptyPlan(named("any"), 1);
    expect(await store.finishRequest(request.id, { status: "done", plan, report })).toBe(true);
    expect(await store.planRequest(request.id)).toMatchObject({ status: "done", planId: request.id });
    expect((await store.plan(request.id))?.plan).toEqual(plan);
    expect(await store.checkReport(request.id)).toEqual(report);
    expect(await store.unfinishedRequests()).not.toContainEqual({ id: request.id, kind: "plan" });
  });

  it("keep the first of several outcomes, also when they come at once", async () => {
    const request = await newRequest();
    await store.startRequest(request.id);
    await silenceWorkers(database.databaseUrl);
    await store.startRequest(request.id);
    const seeds = [11, 12, 13, 14];
    const kept = await Promise.all(
      seeds.map((seed) =>
        store.finishRequest(request.id, { status: "done", plan: emptyPlan(named("any"), seed), report }),
      ),
    );
    expect(kept.filter(Boolean)).toHaveLength(1);
    expect((await store.plan(request.id))?.plan.seed).toBe(seeds[kept.indexOf(true)]);
    const late: PlanOutcome = { status: "failed", failure: { kind: "plannerFailed", message: "late", breaches: [] } };
    expect(await store.finishRequest(request.id, late)).toBe(false);
    expect(await store.planRequest(request.id)).toMatchObject({ status: "done", failure: null });
    expect(await store.startRequest(request.id)).toEqual({ status: "skip" });
  });

  it("that are queued are cancelled at once, and never started", async () => {
    const request = await newRequest();
    const cancelling = { ...acting, action: "cancelPlanRequest" };
    for (let times = 0; times < 2; times++) {
      const cancelled = await store.requestCancel(request.id, cancelling);
      expect(cancelled).toMatchObject({ status: "cancelled", planId: null });
    }
    const { entries } = await store.auditTrail({ action: "cancelPlanRequest", limit: 10 });
    expect(entries.map(({ thingId, operationId }) => [thingId, operationId])).toEqual([
      [request.id, request.operationId],
    ]);
    expect(await store.startRequest(request.id)).toEqual({ status: "skip" });
    expect(await store.requestCancel(randomUUID(), acting)).toBeNull();
  });

  it("that run tell their worker to stop, and keep the plan that it had", async () => {
    const request = await newRequest();
    await store.startRequest(request.id);
    expect(await store.requestCancel(request.id, acting)).toMatchObject({ status: "running" });
    const progress = { iterations: 1, share: 0.1, servedHa: 0, totalCents: 0 };
    expect(await store.reportProgress(request.id, 1, progress)).toBe("cancelled");
    const best = { plan: emptyPlan(named("any"), 3), report };
    await store.finishRequest(request.id, { status: "cancelled", best });
    expect(await store.planRequest(request.id)).toMatchObject({ status: "cancelled", planId: request.id });
  });

  it("that are cancelled while their worker is dead end when they are handed out again", async () => {
    const request = await newRequest();
    await store.startRequest(request.id);
    await store.requestCancel(request.id, acting);
    expect(await store.startRequest(request.id)).toEqual({ status: "busy" });
    await silenceWorkers(database.databaseUrl);
    expect(await store.startRequest(request.id)).toEqual({ status: "skip" });
    expect(await store.planRequest(request.id)).toMatchObject({ status: "cancelled" });
  });

  it("are not begun by a second worker while the first lives; of one that was silent nothing counts but a result", async () => {
    const request = await newRequest();
    expect(await store.startRequest(request.id)).toMatchObject({ status: "go", start: 1 });
    expect(await store.startRequest(request.id)).toEqual({ status: "busy" });
    await silenceWorkers(database.databaseUrl);
    expect(await store.startRequest(request.id)).toMatchObject({ status: "go", start: 2 });
    expect(await store.reportProgress(request.id, 1, null)).toBe("overtaken");
    await store.returnRequest(request.id, { start: 1, startCounts: false, alone: false });
    expect(await store.planRequest(request.id)).toMatchObject({ status: "running" });
    expect(await store.reportProgress(request.id, 2, null)).toBe("goOn");
    expect(await store.finishRequest(request.id, { status: "cancelled", best: null })).toBe(true);
    expect(await store.reportProgress(request.id, 2, null)).toBe("overtaken");
  });

  it("that go back may be told to be worked alone, and count their start or not", async () => {
    const request = await newRequest();
    await store.startRequest(request.id);
    await store.returnRequest(request.id, { start: 1, startCounts: true, alone: true });
    expect(await store.startRequest(request.id)).toMatchObject({ start: 2, alone: true });
    await store.returnRequest(request.id, { start: 2, startCounts: false, alone: true });
    expect(await store.startRequest(request.id)).toMatchObject({ start: 2, alone: true });
    await store.finishRequest(request.id, { status: "cancelled", best: null });
  });

  it(`fail after ${startsMax} starts without an end; a clean shutdown does not count`, async () => {
    const request = await newRequest();
    for (let shutdown = 0; shutdown < startsMax; shutdown++) {
      await store.startRequest(request.id);
      await store.returnRequest(request.id, { start: 1, startCounts: false, alone: false });
    }
    expect(await store.planRequest(request.id)).toMatchObject({ status: "queued" });
    for (let start = 0; start < startsMax; start++) {
      expect((await store.startRequest(request.id)).status).toBe("go");
      await silenceWorkers(database.databaseUrl);
    }
    expect((await store.startRequest(request.id)).status).toBe("skip");
    expect(await store.planRequest(request.id)).toMatchObject({
      status: "failed",
      failure: { kind: "startedTooOften" },
    });
  });

  it("call back whoever watches them when they change, also after the connection was lost", async () => {
    const request = await newRequest();
    let calls = 0;
    const stop = store.watch(request.id, () => calls++);
    await store.startRequest(request.id);
    await eventually(() => (calls > 0 ? true : null), 1_000);

    const client = new pg.Client({ connectionString: database.databaseUrl });
    await client.connect();
    await client.query("select pg_terminate_backend(pid) from pg_stat_activity where query like 'listen %'");
    await client.end();
    const before = calls;
    await store.finishRequest(request.id, { status: "cancelled", best: null });
    await eventually(() => (calls > before ? true : null));
    stop();
    const after = calls;
    await store.requestCancel(request.id, acting);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(calls).toBe(after);
  });

  it("are listed newest first", async () => {
    const { operation } = await store.importOperation(named("listed"), acting);
    const ids = [];
    for (const iterations of [1, 2, 3]) {
      const budget = { iterations };
      ids.push(
        (await madeBy(store.addPlanRequest({ operationId: operation.id, version: 1, budget, seed: 0 }, acting))).id,
      );
    }
    expect((await store.planRequestsOf(operation.id)).map(({ id }) => id)).toEqual(ids.reverse());
  });
});
