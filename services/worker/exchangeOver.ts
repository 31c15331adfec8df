import { type MessagePort, receiveMessageOnPort } from "node:worker_threads";
import type { Problem } from "../solver/problem.ts";
import { fillShelf, type Snapshot, takeSnapshot } from "../solver/snapshot.ts";
import type { Exchange } from "../solver/solve.ts";
import type { FromThread, ToThread } from "./threadMessages.ts";

/** Our choice: nobody needs to hear of every step. */
const everyMs = 250;

/** From which share of the search on, and after how much more of it each time, a search goes on from a better plan of another. Our choice, by trial. */
const firstTakeAt = 0.6;
const takeEvery = 0.1;

/** The newest plan of other threads that lies in the port. A thread that searches never comes to hear of messages by itself. */
function newestOf(port: MessagePort): Snapshot | null {
  let newest: Snapshot | null = null;
  for (;;) {
    const received = receiveMessageOnPort(port) as { readonly message: ToThread } | undefined;
    if (received === undefined) return newest;
    if (received.message.kind === "better") newest = received.message.snapshot;
  }
}

/** Offers a search's best plans to the other threads of its run, and takes theirs. */
export function exchangeOver(port: MessagePort, problem: Problem, takesOver: boolean): Exchange {
  let offeredCents = Number.POSITIVE_INFINITY;
  let offeredMs = Number.NEGATIVE_INFINITY;
  let lookedMs = Number.NEGATIVE_INFINITY;
  let others: Snapshot | null = null;
  let takeAt = firstTakeAt;
  return {
    offer(best, cents) {
      if (cents >= offeredCents) return;
      const nowMs = performance.now();
      if (nowMs - offeredMs < everyMs) return;
      offeredMs = nowMs;
      offeredCents = cents;
      const snapshot = takeSnapshot(problem, best, cents);
      const message: FromThread = { kind: "better", snapshot };
      port.postMessage(message, [snapshot.numbers.buffer as ArrayBuffer]);
    },
    take(into, cents, share) {
      const nowMs = performance.now();
      const isTime = share >= takeAt;
      // Looked for more often than taken, so that none pile up.
      if (!isTime && nowMs - lookedMs < everyMs) return false;
      lookedMs = nowMs;
      others = newestOf(port) ?? others;
      if (!isTime) return false;
      takeAt = share + takeEvery;
      if (!takesOver || others === null || others.totalCents >= cents) return false;
      offeredCents = others.totalCents;
      fillShelf(problem, others, into);
      return true;
    },
  };
}
