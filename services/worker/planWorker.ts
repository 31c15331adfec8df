import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import { requestPiece } from "../queue/pieces.ts";
import type { WorkHandler, WorkQueue } from "../queue/queue.ts";
import type { PlanOutcome, Store } from "../store/store.ts";
import { howManyThreads, usualBoundSeconds } from "./howManyThreads.ts";
import { reportRegularly } from "./reportRegularly.ts";
import { type PlanRun, type RunOutcome, runPlan } from "./runPlan.ts";

/** Breaches kept with a failed request: enough to see what is wrong. */
const breachesKept = 100;
const fillQueueEveryMs = 15_000;

export interface PlanWorkerParts {
  readonly store: Store;
  readonly queue: WorkQueue;
  /** Held while a plan is made: a dispatcher waits for the plan. */
  readonly heldMeanwhile: Pick<WorkQueue, "hold" | "release">;
  /** The module that a thread runs: planThread.ts. */
  readonly threadScript: URL;
  /** Threads for one plan by seconds; null: as many as there are cores. */
  readonly threads: number | null;
  /** So long may a cancelled plan take to come to an end with what it has; then its thread is killed. */
  readonly stopWithinMs: number;
  readonly onError: (error: Error) => void;
}

export interface PlanWorker {
  close(): Promise<void>;
}

export async function startPlanWorker(parts: PlanWorkerParts): Promise<PlanWorker> {
  await fillQueue(parts);
  await parts.queue.process(createHandler(parts));
  const timer = setInterval(() => {
    fillQueue(parts).catch(parts.onError);
  }, fillQueueEveryMs);
  return {
    async close() {
      clearInterval(timer);
      await parts.queue.close();
    },
  };
}

/** The store is the truth: what it holds unfinished is in the queue, also after the queue was lost. */
async function fillQueue({ store, queue }: PlanWorkerParts): Promise<void> {
  await queue.addInTurn((await store.unfinishedRequests()).map(requestPiece));
}

function createHandler(parts: PlanWorkerParts): WorkHandler {
  const plan = createPlanner(parts);
  return async (requestId, signal) => {
    parts.heldMeanwhile.hold();
    try {
      return await plan(requestId, signal);
    } finally {
      parts.heldMeanwhile.release();
    }
  };
}

function createPlanner({ store, threadScript, threads: wanted, stopWithinMs, onError }: PlanWorkerParts): WorkHandler {
  return async (requestId, signal) => {
    const start = await store.startRequest(requestId);
    if (start.status === "skip") return "ended";
    let cancelled = false;
    const reporter = reportRegularly(
      (progress: PlanProgress) => store.reportProgress(requestId, progress),
      () => cancel(),
      onError,
    );
    const { operation, budget, seed } = start;
    const threads = howManyThreads(operation, budget, wanted);
    const boundSeconds = usualBoundSeconds(budget, threads);
    const ask = { operation, budget, seed, threads, boundSeconds };
    const run: PlanRun = runPlan(threadScript, ask, reporter.onProgress);
    const cancel = () => {
      cancelled = true;
      run.stop(stopWithinMs);
    };
    const onAbort = () => (signal.reason === "shutdown" ? run.kill() : cancel());
    signal.addEventListener("abort", onAbort);
    if (signal.aborted) onAbort();
    const ran = await run.outcome;
    await reporter.close();
    signal.removeEventListener("abort", onAbort);
    if (ran.status === "planned") for (const remark of ran.remarks) onError(new Error(`plan ${requestId}: ${remark}`));
    if (ran.status === "killed" && !cancelled) {
      await store.returnRequest(requestId);
      return "giveBack";
    }
    await store.finishRequest(requestId, outcomeOf(ran, cancelled));
    return "ended";
  };
}

function outcomeOf(ran: RunOutcome, cancelled: boolean): PlanOutcome {
  if (cancelled) {
    const best = ran.status === "planned" && ran.report.ok ? { plan: ran.plan, report: ran.report } : null;
    return { status: "cancelled", best };
  }
  if (ran.status !== "planned") {
    const message = ran.status === "crashed" ? ran.message : "the planner was stopped";
    return { status: "failed", failure: { kind: "plannerFailed", message, breaches: [] } };
  }
  const { plan, report } = ran;
  if (report.ok) return { status: "done", plan, report };
  const breaches = report.breaches.slice(0, breachesKept);
  const message = `The checker found ${report.breaches.length} breaches; the first: ${breaches[0]?.sentence}`;
  return { status: "failed", failure: { kind: "checkerFaulted", message, breaches } };
}
