import { subscribe, unsubscribe } from "node:diagnostics_channel";
import type { Worker } from "node:worker_threads";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { howManyThreads, usualBoundSeconds } from "../../../services/worker/howManyThreads.ts";
import { type RunAsk, type RunOutcome, runPlan } from "../../../services/worker/runPlan.ts";
import type { PlanProgress } from "../../../shared/contracts/planRequests.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";

const operation = generateOperation({ orders: 12, crews: 2, days: 3, seed: 4 });
const real = new URL("../../../services/worker/planThread.ts", import.meta.url);
const thread = (name: string) => new URL(`./threads/${name}.ts`, import.meta.url);
const usual: RunAsk = { operation, budget: { iterations: 40 }, seed: 6, threads: 2, boundSeconds: 0 };

/** Every thread that a test has started. */
let workers: Worker[] = [];
const onWorker = (message: unknown) => workers.push((message as { readonly worker: Worker }).worker);
beforeEach(() => {
  workers = [];
  subscribe("worker_threads", onWorker);
});
afterEach(() => {
  unsubscribe("worker_threads", onWorker);
  // A thread that has ended has no number.
  expect(workers.map(({ threadId }) => threadId)).toEqual(workers.map(() => -1));
  expect(workers.length).toBeGreaterThan(0);
});

async function run(script: URL, change: Partial<RunAsk> = {}) {
  const told: PlanProgress[] = [];
  const outcome = await runPlan(script, { ...usual, ...change }, (progress) => told.push(progress)).outcome;
  return { outcome, told };
}

function planned(outcome: RunOutcome) {
  if (outcome.status !== "planned") throw new Error(JSON.stringify(outcome));
  expect(outcome.report).toEqual(checkPlan(operation, outcome.plan));
  expect(outcome.report.breaches).toEqual([]);
  return outcome;
}

describe("a run of several threads", { timeout: 120_000 }, () => {
  it("gives one checked plan, and tells of all threads as of one search", async () => {
    const { outcome, told } = await run(real);
    const { plan, remarks } = planned(outcome);
    expect(remarks).toEqual([]);
    expect(workers).toHaveLength(2);
    expect(plan.iterations).toBe(80);
    const costs = told.map(({ totalCents }) => totalCents);
    expect(costs).toEqual(costs.toSorted((a, b) => b - a));
    expect(told.at(-1)).toMatchObject({ iterations: 80, share: 1 });
    // What the search believed, to the rounding of the score's parts; what still pays at the end may be put in.
    expect(plan.score.totalCents).toBeLessThanOrEqual(costs.at(-1)! + 4);
  });

  it("from a published plan tells first what of it still holds, as the checker has passed it", async () => {
    const { plan: published } = planned((await run(real, { threads: 1 })).outcome);
    const first: { readonly plan: Plan; readonly ok: boolean }[] = [];
    const { outcome, told } = await run(real, {
      threads: 1,
      published,
      onFirst: (plan, { ok }) => first.push({ plan, ok }),
    });
    expect(planned(outcome).plan.score.changeCents).toBeDefined();
    expect(first).toHaveLength(1);
    expect(first[0]!.ok).toBe(true);
    expect(first[0]!.plan.crewDays).toEqual(published.crewDays);
    expect(told.at(-1)?.first?.totalCents).toBe(first[0]!.plan.score.totalCents);
  });

  it("with one thread and iterations gives the planner's own plan, byte for byte, as often as it is asked", async () => {
    const alone = planOperation(operation, {
      seed: 6,
      random: createRandom(6),
      doneShare: (done) => done / 40,
      polish: polishWith(await loadHighs(), undefined),
    });
    const [first, second] = [await run(real, { threads: 1 }), await run(real, { threads: 1 })];
    expect(JSON.stringify(planned(first.outcome).plan)).toBe(JSON.stringify(alone));
    expect(JSON.stringify(planned(second.outcome).plan)).toBe(JSON.stringify(alone));
  });

  it("goes on from a better plan of another thread", async () => {
    const bound = { budget: { iterations: 20 } };
    const sharing = await run(thread("secondKnowsBetter"), bound);
    const apart = await run(thread("secondKnowsBetter"), { ...bound, takesOver: false });
    // Only the first thread tells of its progress, and by itself it does not get so far.
    const reached = (told: readonly PlanProgress[]) => told.at(-1)!.totalCents;
    expect(reached(sharing.told)).toBeLessThan(reached(apart.told));
    // The best of all is the plan, whoever has found it.
    expect(planned(apart.outcome).plan.score.totalCents).toBeLessThan(reached(apart.told) - 4);
    planned(sharing.outcome);
  });

  it("loses no plan with a thread that crashes", async () => {
    const { outcome } = await run(thread("oneCrashes"));
    const { plan, remarks } = planned(outcome);
    expect(remarks).toEqual(["a thread was lost: a bug in the second thread"]);
    expect(plan.iterations).toBe(40);
  });

  it("finishes the best plan in a new thread when all of them have crashed", async () => {
    const { outcome } = await run(thread("crashesWithAPlan"), { threads: 1 });
    const { remarks } = planned(outcome);
    expect(remarks).toEqual(["a thread was lost: a bug at the end of the search"]);
    expect(workers).toHaveLength(2);
  });

  it("leaves a thread behind that hangs", async () => {
    const { outcome } = await run(thread("oneHangs"), { budget: { seconds: 1 } });
    expect(planned(outcome).remarks).toEqual(["a thread was lost: it did not come to an end in time"]);
  });

  it("has no plan when every thread crashes before there is one, and says why", async () => {
    const { outcome } = await run(thread("throws"));
    expect(outcome).toEqual({ status: "crashed", how: "threw", message: "a bug in the planner" });
  });

  it("gives the best plan so far when it is stopped", async () => {
    const told: PlanProgress[] = [];
    const started = runPlan(real, { ...usual, budget: { seconds: 600 } }, (progress) => {
      told.push(progress);
      if (told.length === 3) started.stop(30_000);
    });
    const { plan } = planned(await started.outcome);
    expect(plan.score.totalCents).toBeLessThanOrEqual(told[2]!.totalCents + 4);
    expect(told.at(-1)!.share).toBe(1);
    // At least one for each kind of aircraft by day and by night.
    expect(started.windows()).toBeGreaterThanOrEqual(2 * usual.operation.fleet.aircraftTypes.length);
  });

  it("is killed when it does not stop in time", async () => {
    const started = runPlan(thread("deaf"), { ...usual, budget: { seconds: 600 } }, () => {});
    started.stop(300);
    expect(await started.outcome).toEqual({ status: "killed" });
  });
});

describe("a bound that a thread has proven", { timeout: 120_000 }, () => {
  const proving = { threads: 1, boundSeconds: 1 };

  it("goes with the plan and with the progress", async () => {
    const { outcome, told } = await run(thread("proves"), { ...proving, seed: 1000 });
    const { plan, remarks } = planned(outcome);
    expect(plan.proof).toMatchObject({ boundCents: 1000, method: "routes", finished: true });
    expect(plan.proof!.gapFrac).toBeCloseTo(plan.score.totalCents / 1000 - 1, 9);
    expect(told.at(-1)!.gapFrac).toBeCloseTo(told.at(-1)!.totalCents / 1000 - 1, 9);
    expect(remarks).toEqual([]);
    expect(workers).toHaveLength(2);
  });

  it("is proven of a real plan, and the thread that has proven it then searches", async () => {
    const { outcome } = await run(real, { threads: 2, boundSeconds: 15 });
    const { plan, remarks } = planned(outcome);
    expect(remarks).toEqual([]);
    expect(plan.proof!.boundCents).toBeGreaterThan(0);
    expect(plan.proof!.boundCents).toBeLessThanOrEqual(plan.score.totalCents);
    expect(workers).toHaveLength(2);
    expect(plan.iterations).toBe(2 * 40);
  });

  it("is not claimed when the plan itself shows that it is wrong", async () => {
    const { outcome } = await run(thread("proves"), { ...proving, seed: 4_000_000_000 });
    const { plan, remarks } = planned(outcome);
    expect(plan.proof).toBeUndefined();
    expect(remarks).toEqual([expect.stringContaining("40000000.00")]);
  });

  it("ends the run when the plan is near enough to it", async () => {
    const ask = { ...proving, budget: { seconds: 600 }, seed: 1, enoughGapFrac: 1e12 };
    planned((await run(thread("proves"), ask)).outcome);
  });
});

describe("threads of a plan", () => {
  const seconds = { seconds: 10 };
  const large = generateOperation({ orders: 15, crews: 2, days: 3, seed: 4 });
  const ordersOf = (count: number) => ({ ...large, orders: Array.from({ length: count }, () => large.orders[0]!) });
  beforeEach(() => {
    workers = [{ threadId: -1 } as Worker];
  });

  it("are as many as are wanted, one by iterations, and fewer where memory would not last", () => {
    expect(howManyThreads(operation, seconds, 3)).toBe(3);
    expect(howManyThreads(operation, { iterations: 10 }, 3)).toBe(1);
    expect(howManyThreads(ordersOf(2000), seconds, 4)).toBeLessThan(4);
    expect(howManyThreads(ordersOf(100_000), seconds, 4)).toBe(1);
    expect(howManyThreads(operation, seconds, null)).toBeGreaterThan(0);
  });

  it("seek a bound as long as they search, unless there is but one", () => {
    expect(usualBoundSeconds(seconds, 2)).toBe(10);
    expect(usualBoundSeconds(seconds, 1)).toBe(0);
    expect(usualBoundSeconds({ iterations: 10 }, 1)).toBe(0);
  });
});
