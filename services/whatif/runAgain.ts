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
      thread ??= begin(ask);
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

function begin(ask: AgainAsk): Worker {
  const thread = startThread(threadScript, ask);
  // Whatever it falls over between two lists is heard of with the next.
  return thread.on("error", () => undefined);
}

function answerOf(thread: Worker, changes: readonly Change[]): Promise<AgainOutcome> {
  return new Promise((resolve) => {
    const end = (outcome: AgainOutcome) => {
      thread.off("message", end);
      thread.off("error", fail);
      thread.off("exit", leave);
      resolve(outcome);
    };
    const lose = (why: string) => end({ ok: false, message: `its thread was lost: ${why}`, isLost: true });
    const fail = ({ message }: Error) => lose(message);
    const leave = (code: number) => lose(`it ended with ${code}`);
    thread.on("message", end);
    thread.on("error", fail);
    thread.on("exit", leave);
    thread.postMessage(changes);
  });
}
