import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import type { WorkQueue } from "../../../services/queue/queue.ts";
import { planQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { PlanBudget, Store } from "../../../services/store/store.ts";
import { type PlanWorker, startPlanWorker } from "../../../services/worker/planWorker.ts";
import { hasEnded, type PlanRequest } from "../../../shared/contracts/planRequests.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { richOperation } from "../../support/richOperation.ts";
import { eventually, startTestDatabase } from "../../support/servers.ts";

const realThread = new URL("../../../services/worker/planThread.ts", import.meta.url);
const thread = (name: string) => new URL(`./threads/${name}.ts`, import.meta.url);
const onError = () => undefined;

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let store: Store;
let front: WorkQueue;
let workers: PlanWorker[] = [];
let operationId: string;
let version: number;
/** What was told to the other queue. */
let told: string[] = [];

beforeAll(async () => {
  database = await startTestDatabase();
});
afterAll(() => database.stop());
beforeEach(async () => {
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: onError });
  front = await openQueue();
  ({ id: operationId, version } = (await store.importOperation(richOperation(), acting)).operation);
});
afterEach(async () => {
  await Promise.all(workers.map((worker) => worker.close()));
  workers = [];
  await front.close();
  await store.close();
});

const openQueue = () =>
  connectQueue({ kind: planQueue, databaseUrl: database.databaseUrl, redisUrl: null, onConnectionError: onError });

async function startWorker(threadScript: URL, threads = 1): Promise<PlanWorker> {
  const worker = await startPlanWorker({
    store,
    queue: await openQueue(),
    heldMeanwhile: { hold: () => void told.push("hold"), release: () => void told.push("release") },
    threadScript,
    threads,
    stopWithinMs: 1_500,
    onError,
  });
  workers.push(worker);
  return worker;
}
const newRequest = (budget: PlanBudget) =>
  madeBy(store.addPlanRequest({ operationId, version, budget, seed: 5 }, acting));
const reach = (requestId: string, isThere: (request: PlanRequest) => boolean) =>
  eventually(async () => {
    const request = (await store.planRequest(requestId))!;
    return isThere(request) ? request : null;
  }, 60_000);
const ended = (requestId: string) => reach(requestId, ({ status }) => hasEnded(status));
const running = (requestId: string) => reach(requestId, ({ status }) => status === "running");

describe("a worker", { timeout: 120_000 }, () => {
  it("plans what is in the store, also when the queue has never heard of it", async () => {
    const request = await newRequest({ iterations: 200 });
    await startWorker(realThread);
    expect(await ended(request.id)).toMatchObject({ status: "done", failure: null, planId: request.id });
    const { plan } = (await store.plan(request.id))!;
    expect(plan.iterations).toBe(200);
    const operation = (await store.operationVersion(operationId, version))!.document;
    expect(checkPlan(operation, plan).breaches).toEqual([]);
    expect(await store.checkReport(request.id)).toEqual(checkPlan(operation, plan));
  });

  it("holds the other queue while it plans, and only then, also when the planner breaks", async () => {
    for (const [script, seconds] of [[realThread, 3] as const, [thread("throws"), 1] as const]) {
      told = [];
      const worker = await startWorker(script);
      expect(told).toEqual([]);
      const request = await newRequest({ seconds });
      await front.add(request.id);
      if (script === realThread) {
        await running(request.id);
        expect(told).toEqual(["hold"]);
      }
      await ended(request.id);
      await eventually(() => (told.length === 2 ? true : null));
      expect(told).toEqual(["hold", "release"]);
      workers = [];
      await worker.close();
    }
  });

  it("makes the same plan of the same seed and iterations", async () => {
    await startWorker(realThread);
    const requests = [await newRequest({ iterations: 100 }), await newRequest({ iterations: 100 })];
    for (const { id } of requests) await front.add(id);
    for (const { id } of requests) await ended(id);
    const [one, other] = await Promise.all(requests.map(({ id }) => store.plan(id)));
    expect(one!.plan).toEqual(other!.plan);
  });

  it("tells of its progress, and ends within about the seconds that it was given", async () => {
    await startWorker(realThread);
    const request = await newRequest({ seconds: 2 });
    await front.add(request.id);
    const seen = await reach(request.id, ({ progress }) => progress !== null);
    expect(seen.progress!.share).toBeGreaterThan(0);
    const { startedAt, endedAt } = await ended(request.id);
    const tookMs = Date.parse(endedAt!) - Date.parse(startedAt!);
    expect(tookMs).toBeGreaterThan(2_000);
    // A busy machine takes long to start a thread.
    expect(tookMs).toBeLessThan(30_000);
  });

  it("stops a plan that is cancelled, and keeps the best that there was", async () => {
    await startWorker(realThread, 2);
    const request = await newRequest({ seconds: 600 });
    await front.add(request.id);
    await reach(request.id, ({ progress }) => progress !== null);
    await store.requestCancel(request.id, acting);
    await front.cancel(request.id);
    expect(await ended(request.id)).toMatchObject({ status: "cancelled", planId: request.id });
  });

  it("leaves alone what was cancelled while it waited", async () => {
    const request = await newRequest({ seconds: 600 });
    await front.add(request.id);
    await store.requestCancel(request.id, acting);
    await front.cancel(request.id);
    const next = await newRequest({ iterations: 10 });
    await front.add(next.id);
    await startWorker(realThread);
    expect(await ended(next.id)).toMatchObject({ status: "done" });
    expect(await store.planRequest(request.id)).toMatchObject({ status: "cancelled", startedAt: null });
  });

  it("hears of a cancellation also when the queue has lost the message", async () => {
    await startWorker(realThread);
    const request = await newRequest({ seconds: 600 });
    await front.add(request.id);
    await running(request.id);
    await store.requestCancel(request.id, acting);
    expect(await ended(request.id)).toMatchObject({ status: "cancelled" });
  });

  it("kills a planner that does not listen", async () => {
    await startWorker(thread("deaf"));
    const request = await newRequest({ seconds: 1 });
    await front.add(request.id);
    await running(request.id);
    await store.requestCancel(request.id, acting);
    await front.cancel(request.id);
    expect(await ended(request.id)).toMatchObject({ status: "cancelled", planId: null });
  });

  it("never keeps a plan that the checker faults, but tells what was wrong", async () => {
    await startWorker(thread("badPlan"));
    const request = await newRequest({ seconds: 1 });
    await front.add(request.id);
    const { status, failure, planId } = await ended(request.id);
    expect({ status, kind: failure?.kind, planId }).toEqual({ status: "failed", kind: "checkerFaulted", planId: null });
    expect(failure?.message).toContain("wind 21 km/h, label allows 15");
    expect(failure?.breaches).toHaveLength(1);
  });

  it("outlives a planner with a bug, and works on", async () => {
    await startWorker(thread("throws"));
    const broken = await newRequest({ seconds: 1 });
    await front.add(broken.id);
    const { status, failure } = await ended(broken.id);
    expect({ status, kind: failure?.kind }).toEqual({ status: "failed", kind: "plannerFailed" });
    expect(failure?.message).toContain("a bug in the planner");
    const next = await newRequest({ seconds: 1 });
    await front.add(next.id);
    await ended(next.id);
  });

  it("gives back what it runs when it is closed, for the next worker", async () => {
    const first = await startWorker(realThread);
    const request = await newRequest({ seconds: 3 });
    await front.add(request.id);
    await running(request.id);
    workers = [];
    await first.close();
    expect(await store.planRequest(request.id)).toMatchObject({ status: "queued" });
    await startWorker(realThread);
    expect(await ended(request.id)).toMatchObject({ status: "done" });
  });
});
