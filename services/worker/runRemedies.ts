import type { Worker } from "node:worker_threads";
import type { Remedies } from "../../shared/cases/remedy.ts";
import { findRemedies, type RemediesAsk } from "../solver/remedies/findRemedies.ts";
import type { Tried, TryTask } from "../solver/remedies/tryChanges.ts";
import { startThread } from "../threads/startThread.ts";
import type { FromRemedyThread, RemedyThreadInput, ToRemedyThread } from "./remedyMessages.ts";

export interface RemediesRunAsk extends RemediesAsk {
  readonly threads: number;
  /** Nothing is begun after so long; left out: all is tried. */
  readonly seconds?: number;
}

export interface RemediesProgress {
  readonly tried: number;
  /** So many are known by now; those of the second round come once the first has ended. */
  readonly known: number;
}

export interface RemediesOutcome {
  readonly remedies: Remedies;
  /** What went wrong on the way. */
  readonly remarks: readonly string[];
}

/** Remedies, each tried in one of several threads. What comes out does not depend on how many there are, unless time runs out or a thread is lost. */
export async function runRemedies(
  script: URL,
  ask: RemediesRunAsk,
  onProgress: (progress: RemediesProgress) => void,
): Promise<RemediesOutcome> {
  const { operation, plan, iterations } = ask;
  const begunMs = performance.now();
  const isTimeLeft = () => ask.seconds === undefined || performance.now() - begunMs < ask.seconds * 1000;
  const remarks: string[] = [];
  const workerData: RemedyThreadInput = { operation, plan, iterations };
  const threads = Array.from({ length: ask.threads }, () => startThread(script, workerData));
  const lost = new Set<Worker>();
  for (const thread of threads) {
    thread.on("exit", () => lost.add(thread));
    thread.on("error", (error) => {
      lost.add(thread);
      remarks.push(`a thread was lost: ${error.message}`);
    });
  }
  const progress = { tried: 0, known: 0 };
  const tryAll = async (tasks: readonly TryTask[]) => {
    const tried: (Tried | null)[] = tasks.map(() => null);
    progress.known += tasks.length;
    let next = 0;
    const work = async (thread: Worker) => {
      while (next < tasks.length && !lost.has(thread) && isTimeLeft()) {
        const at = next++;
        tried[at] = await answerOf(thread, { at, task: tasks[at]! });
        progress.tried++;
        onProgress(progress);
      }
    };
    await Promise.all(threads.map(work));
    return tried;
  };
  try {
    return { remedies: await findRemedies(ask, tryAll), remarks };
  } finally {
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
}

/** Null when the thread is lost over it. */
function answerOf(thread: Worker, question: ToRemedyThread): Promise<Tried | null> {
  return new Promise((resolve) => {
    const end = (tried: Tried | null) => {
      thread.off("message", hear);
      thread.off("exit", fall);
      resolve(tried);
    };
    const hear = ({ at, tried }: FromRemedyThread) => {
      if (at === question.at) end(tried);
    };
    const fall = () => end(null);
    thread.on("message", hear);
    thread.on("exit", fall);
    thread.postMessage(question);
  });
}
