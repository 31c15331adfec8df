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

/** So many plans of others are kept until their routes are asked for, the latest. Our choice. */
const mostHeard = 40;

/** Offers a search's best plans to the other threads of its run, and takes theirs. */
export function exchangeOver(port: MessagePort, problem: Problem, takesOver: boolean): Exchange {
  let offeredCents = Number.POSITIVE_INFINITY;
  let offeredMs = Number.NEGATIVE_INFINITY;
  let lookedMs = Number.NEGATIVE_INFINITY;
  let cheapest: Snapshot | null = null;
  const heard: Snapshot[] = [];
  // A thread that searches never comes to hear of messages by itself.
  const listen = () => {
    for (;;) {
      const received = receiveMessageOnPort(port) as { readonly message: ToThread } | undefined;
      if (received === undefined) return;
      if (received.message.kind !== "better") continue;
      const { snapshot } = received.message;
      heard.push(snapshot);
      if (heard.length > mostHeard) heard.shift();
      if (cheapest === null || snapshot.totalCents < cheapest.totalCents) cheapest = snapshot;
    }
  };
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
      listen();
      if (!isTime) return false;
      takeAt = share + takeEvery;
      if (!takesOver || cheapest === null || cheapest.totalCents >= cents) return false;
      offeredCents = cheapest.totalCents;
      fillShelf(problem, cheapest, into);
      return true;
    },
    hear(into) {
      listen();
      const plan = takesOver ? heard.pop() : undefined;
      if (plan === undefined) return false;
      fillShelf(problem, plan, into);
      return true;
    },
  };
}
