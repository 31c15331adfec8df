import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import { requestPiece } from "../queue/pieces.ts";
import type { WorkHandler, WorkQueue } from "../queue/queue.ts";
import type { PlanOutcome, StartOutcome, Store } from "../store/store.ts";
import { howManyThreads, usualBoundSeconds } from "./howManyThreads.ts";
import { lookAfter } from "./lookAfter.ts";
import { type RunOutcome, runPlan } from "./runPlan.ts";
import { type PieceKind, pieceHandler, type Run, type RunEnding, type TellJob } from "./workPiece.ts";

/** Breaches kept with a failed request: enough to see what is wrong. */
const breachesKept = 100;

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
  readonly onJob?: TellJob;
}

export interface PlanWorker {
  /** Begins nothing more; what runs may come to an end until `hurry` is aborted, and goes back then; at once if it is left out. */
  close(hurry?: AbortSignal): Promise<void>;
}

export async function startPlanWorker(parts: PlanWorkerParts): Promise<PlanWorker> {
  const { store, queue, onError } = parts;
  await queue.process(createHandler(parts));
  // The store is the truth: what it holds unfinished is in the queue, also after the queue was lost.
  const stopLooking = await lookAfter(
    async () => queue.addInTurn((await store.unfinishedRequests()).map(requestPiece)),
    onError,
  );
  return {
    async close(hurry) {
      stopLooking();
      await queue.close(hurry);
    },
  };
}

function createHandler(parts: PlanWorkerParts): WorkHandler {
  const plan = pieceHandler(requests(parts), parts.onError, parts.onJob);
  return async (requestId, signal) => {
    parts.heldMeanwhile.hold();
    try {
      return await plan(requestId, signal);
    } finally {
      parts.heldMeanwhile.release();
    }
  };
}

type Go = Extract<StartOutcome, { status: "go" }>;

function requests(parts: PlanWorkerParts): PieceKind<Go, PlanProgress | null, PlanOutcome> {
  const { store } = parts;
  return {
    queue: "plans",
    start: (requestId) => store.startRequest(requestId),
    run: (requestId, go, onProgress) => startRun(parts, requestId, go, onProgress),
    report: (requestId, start, progress) => store.reportProgress(requestId, start, progress),
    giveBack: (requestId, back) => store.returnRequest(requestId, back),
    finish: (requestId, outcome) => store.finishRequest(requestId, outcome),
    failed: (message) => ({ status: "failed", failure: { kind: "plannerFailed", message, breaches: [] } }),
    afterwards: async () => undefined,
  };
}

function startRun(
  { threadScript, threads: wanted, stopWithinMs, onError }: PlanWorkerParts,
  requestId: string,
  { operation, budget, seed, alone, from }: Go,
  onProgress: (progress: PlanProgress) => void,
): Run<PlanProgress | null, PlanOutcome> {
  const threads = alone ? 1 : howManyThreads(operation, budget, wanted);
  const boundSeconds = usualBoundSeconds(budget, threads);
  const beganMs = performance.now();
  let firstPlanSeconds: number | null = null;
  let latest: PlanProgress | null = null;
  let ran: RunOutcome = { status: "killed" };
  const before = from === null ? {} : { published: from };
  const run = runPlan(threadScript, { operation, budget, seed, threads, boundSeconds, ...before }, (progress) => {
    firstPlanSeconds ??= (performance.now() - beganMs) / 1000;
    latest = progress;
    onProgress(progress);
  });
  return {
    ended: run.outcome.then((outcome) => {
      ran = outcome;
      const remarks = ran.status === "planned" ? ran.remarks : [];
      for (const remark of remarks) onError(new Error(`plan ${requestId}: ${remark}`));
      return endingOf(ran);
    }),
    outcome: (wasCancelled) => outcomeOf(ran, wasCancelled),
    progress: () => latest,
    facts: () => ({
      gapFrac: (ran.status === "planned" ? ran.plan.proof?.gapFrac : null) ?? null,
      firstPlanSeconds,
      windows: run.windows(),
    }),
    cancel: () => run.stop(stopWithinMs),
    kill: run.kill,
  };
}

function endingOf(ran: RunOutcome): RunEnding {
  if (ran.status === "crashed") return ran.how;
  if (ran.status === "killed") return "killed";
  return ran.report.ok ? "done" : "checkerFaulted";
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
