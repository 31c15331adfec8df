import type { Worker } from "node:worker_threads";
import type { PlanProgress } from "../../shared/contracts/planRequests.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { CheckReport } from "../../shared/plan/check/report.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { gapFracOf, type ProvenBound } from "../../shared/plan/proof.ts";
import { moneyWords } from "../../shared/plan/words.ts";
import type { Snapshot } from "../solver/snapshot.ts";
import type { Progress } from "../solver/solve.ts";
import type { LeftOut } from "../solver/startFrom.ts";
import type { PlanBudget } from "../store/store.ts";
import { startThread } from "../threads/startThread.ts";
import { type Crash, crashOf, silentEnd } from "./crash.ts";
import { askToStop, createControl, joinRun } from "./runClock.ts";
import type { FromThread, ThreadInput, ToThread } from "./threadMessages.ts";

export type RunOutcome =
  | {
      readonly status: "planned";
      readonly plan: Plan;
      readonly report: CheckReport;
      /** What went wrong on the way and did not cost the plan. */
      readonly remarks: readonly string[];
    }
  | ({ readonly status: "crashed" } & Crash)
  | { readonly status: "killed" };

export interface RunAsk {
  readonly operation: Operation;
  readonly budget: PlanBudget;
  readonly seed: number;
  readonly from?: Plan;
  readonly published?: Plan;
  /** With more than one, how they fare with each other decides what comes out. */
  readonly threads: number;
  /** 0: no bound is sought. */
  readonly boundSeconds: number;
  /** False: each thread searches alone, and the best of all is taken at the end. */
  readonly takesOver?: boolean;
  /** The run ends when the best plan is proven to be so near to the least possible cost. */
  readonly enoughGapFrac?: number;
  readonly onLeftOut?: (left: readonly LeftOut[]) => void;
  /** Told of what holds of the plan to start from, as a plan, before anything is searched for. */
  readonly onFirst?: (plan: Plan, report: CheckReport, seconds: number) => void;
}

export interface PlanRun {
  readonly outcome: Promise<RunOutcome>;
  /** So many windows its threads have worked out so far. */
  windows(): number;
  /** Asks for the best plan so far; kills the threads when it does not come within the time. */
  stop(withinMs: number): void;
  kill(): void;
}

/** Our choice: so much longer than the time that they had threads may take, when there is a plan. Then it goes on without them. */
const lateMs = 5000;

interface Thread {
  readonly worker: Worker;
  readonly searches: boolean;
  status: "running" | "ended" | "dead";
  iterations: number;
  progress: Progress | null;
}

/**
 * Threads that search for one plan, and one that proves how good it can be. Each tells its best plan, which is handed on to the others; when all have ended, one of them finishes the best plan and
 * checks it. A thread that crashes or hangs is left behind.
 */
export function runPlan(script: URL, ask: RunAsk, onProgress: (progress: PlanProgress) => void): PlanRun {
  const control = createControl();
  const threads: Thread[] = [];
  const remarks: string[] = [];
  let best: { readonly snapshot: Snapshot; readonly by: Thread } | null = null;
  let bound: ProvenBound | null = null;
  let first: { readonly plan: Plan; readonly report: CheckReport; readonly seconds: number } | null = null;
  let finisher: Thread | null = null;
  let windows = 0;
  let crash: Crash | null = null;
  let rescued = false;
  let isOver = false;
  let lateTimer: NodeJS.Timeout | undefined;
  let killTimer: NodeJS.Timeout | undefined;

  let end: (outcome: RunOutcome) => void = () => {};
  const outcome = new Promise<RunOutcome>((resolve) => {
    end = (ended) => {
      isOver = true;
      resolve(ended);
    };
  }).finally(async () => {
    clearTimeout(lateTimer);
    clearTimeout(killTimer);
    await Promise.all(threads.map(({ worker }) => worker.terminate()));
  });

  const start = (role: Pick<ThreadInput, "searches" | "boundSeconds">) => {
    const { operation, budget, seed, takesOver = true, from, published } = ask;
    const index = threads.length;
    const before = { ...(from === undefined ? {} : { from }), ...(published === undefined ? {} : { published }) };
    const workerData: ThreadInput = { operation, budget, seed, ...before, index, takesOver, control, ...role };
    const worker = startThread(script, workerData);
    const thread: Thread = { worker, searches: role.searches, status: "running", iterations: 0, progress: null };
    threads.push(thread);
    worker.on("message", (message: FromThread) => hear(thread, message));
    worker.on("error", (error) => lose(thread, crashOf(error)));
    worker.on("exit", (code) => lose(thread, silentEnd("the planner", code)));
  };
  const tell = (thread: Thread, message: ToThread) => thread.worker.postMessage(message);

  const hear = (thread: Thread, message: FromThread) => {
    if (isOver || thread.status === "dead") return;
    switch (message.kind) {
      case "leftOut":
        return ask.onLeftOut?.(message.left);
      case "first":
        if (message.report.ok) first = message;
        ask.onFirst?.(message.plan, message.report, message.seconds);
        return report();
      case "compiled":
        windows += message.windows;
        return;
      case "progress":
        thread.progress = message.progress;
        return report();
      case "better":
        return keep(thread, message.snapshot);
      case "bound":
        bound = message.bound;
        return report();
      case "ended":
        thread.status = "ended";
        thread.iterations = message.iterations;
        if (message.snapshot !== null) keep(thread, message.snapshot);
        return settle();
      case "planned":
        if (bound !== null && bound.boundCents > message.plan.score.totalCents)
          remarks.push(refuted(bound, message.plan));
        return end({ status: "planned", plan: message.plan, report: message.report, remarks });
    }
  };
  const keep = (by: Thread, snapshot: Snapshot) => {
    // Also one that is not the best of all: its routes may be.
    for (const thread of threads) {
      if (thread !== by && thread.status === "running") tell(thread, { kind: "better", snapshot });
    }
    if (best === null || snapshot.totalCents < best.snapshot.totalCents) best = { snapshot, by };
  };
  const report = () => {
    const told = threads.flatMap(({ progress }) => progress ?? []);
    if (told.length === 0) {
      if (first === null) return;
      const { servedHa, totalCents } = first.plan.score;
      return onProgress({ iterations: 0, share: 0, servedHa, totalCents, first: firstProgress(first) });
    }
    const { servedHa, totalCents } = told.reduce((least, one) => (one.totalCents < least.totalCents ? one : least));
    const gapFrac = bound === null || bound.boundCents <= 0 ? null : gapFracOf(bound.boundCents, totalCents);
    onProgress({
      iterations: told.reduce((sum, { iterations }) => sum + iterations, 0),
      share: Math.min(1, Math.max(...told.map(({ share }) => share))),
      servedHa,
      totalCents,
      ...(gapFrac === null ? {} : { gapFrac }),
      ...(first === null ? {} : { first: firstProgress(first) }),
    });
    if (gapFrac !== null && ask.enoughGapFrac !== undefined && gapFrac <= ask.enoughGapFrac) askToStop(control);
  };
  const lose = (thread: Thread, why: Crash) => {
    if (isOver || thread.status === "dead") return;
    const isMissed = thread.status === "running" || finisher === thread;
    thread.status = "dead";
    if (!isMissed) return;
    thread.iterations = thread.progress?.iterations ?? 0;
    crash ??= why;
    remarks.push(`a thread was lost: ${why.message}`);
    if (finisher === thread) finisher = null;
    settle();
  };

  /** See whether it is time for the plan. */
  const settle = () => {
    if (finisher !== null) return;
    const live = threads.filter(({ status }) => status !== "dead");
    if (live.some(({ status }) => status === "running")) {
      // By iterations one search may well take longer than another.
      const searching = live.filter(({ searches }) => searches);
      const ended = searching.filter(({ status }) => status === "ended").length;
      if (best !== null && ended >= ("seconds" in ask.budget ? 1 : searching.length)) {
        const boundLeftS = Math.max(0, ask.boundSeconds - joinRun(control).seconds());
        lateTimer ??= setTimeout(leaveBehind, boundLeftS * 1000 + lateMs);
      }
      return;
    }
    if (best === null && first !== null) {
      const { plan, report } = first;
      return end({ status: "planned", plan, report, remarks });
    }
    if (best === null) return end({ status: "crashed", ...(crash ?? threw("no thread has found a plan")) });
    finisher = live.find((thread) => thread === best?.by) ?? live[0] ?? null;
    if (finisher !== null) {
      const iterations = threads.reduce((sum, thread) => sum + thread.iterations, 0);
      tell(finisher, { kind: "finish", snapshot: best.snapshot, iterations, bound });
    } else if (rescued) {
      end({ status: "crashed", ...(crash ?? threw("no thread is left")) });
    } else {
      rescued = true;
      start({ searches: false, boundSeconds: 0 });
    }
  };
  const leaveBehind = () => {
    for (const thread of threads) {
      if (thread.status !== "running") continue;
      void thread.worker.terminate();
      lose(thread, threw("it did not come to an end in time"));
    }
  };
  const kill = () => end({ status: "killed" });

  for (const role of rolesOf(ask)) start(role);
  return {
    outcome,
    windows: () => windows,
    stop(withinMs) {
      askToStop(control);
      killTimer ??= setTimeout(kill, withinMs);
    },
    kill,
  };
}

const threw = (message: string): Crash => ({ how: "threw", message });

function firstProgress({ plan, seconds }: { readonly plan: Plan; readonly seconds: number }): PlanProgress["first"] {
  const { servedHa, totalCents } = plan.score;
  return { seconds, servedHa, totalCents };
}

function refuted({ boundCents }: ProvenBound, { score }: Plan): string {
  return `nothing is claimed: a plan of ${moneyWords(score.totalCents)} was found where none was to cost less than ${moneyWords(boundCents)}`;
}

/** One of several threads begins with the bound, and searches when that has come to an end; a lone one has a thread beside it. */
function rolesOf({ threads, boundSeconds }: RunAsk): Pick<ThreadInput, "searches" | "boundSeconds">[] {
  const searching = Array.from({ length: threads }, () => ({ searches: true, boundSeconds: 0 }));
  if (boundSeconds === 0) return searching;
  const prover = { searches: threads > 1, boundSeconds };
  return threads > 1 ? [...searching.slice(0, -1), prover] : [...searching, prover];
}
