import type { Worker } from "node:worker_threads";
import type { AgainOutcome } from "../../shared/cases/bottlenecks.ts";
import type { Change } from "../../shared/cases/change.ts";
import { startThread } from "../threads/startThread.ts";
import type { AgainAsk } from "./planAgain.ts";

const threadScript = new URL("./againThread.ts", import.meta.url);

/** Plans again with each of several lists of changes, in so many threads; outcomes in the order of the lists. A thread that is lost takes the list that it was at with it. */
export async function runAgain(
  ask: AgainAsk,
  lists: readonly (readonly Change[])[],
  threads: number,
  onOutcome: () => void,
): Promise<AgainOutcome[]> {
  const outcomes: AgainOutcome[] = [];
  let next = 0;
  const work = async () => {
    let thread: Worker | null = null;
    while (next < lists.length) {
      const at = next++;
      thread ??= startThread(threadScript, ask);
      const outcome = await answerOf(thread, lists[at]!);
      outcomes[at] = outcome;
      onOutcome();
      if (outcome.ok || !outcome.isLost) continue;
      thread = null;
    }
    await thread?.terminate();
  };
  await Promise.all(Array.from({ length: Math.min(threads, lists.length) }, work));
  return outcomes;
}

function answerOf(thread: Worker, changes: readonly Change[]): Promise<AgainOutcome> {
  return new Promise((resolve) => {
    const end = (outcome: AgainOutcome) => {
      thread.removeAllListeners();
      resolve(outcome);
    };
    thread.on("message", end);
    thread.on("error", ({ message }) => end({ ok: false, message: `its thread was lost: ${message}`, isLost: true }));
    thread.on("exit", (code) => end({ ok: false, message: `its thread ended with ${code}`, isLost: true }));
    thread.postMessage(changes);
  });
}
