import { storeTrouble } from "../store/trouble.ts";

/** Our choice. Each wait is drawn between half of it and all, so that workers do not come back all at once. */
const firstWaitMs = 250;
const longestWaitMs = 5_000;

export interface KeepOptions {
  readonly forMs: number;
  /** The process wants to end: no more waiting. */
  readonly giveUp: AbortSignal;
  readonly onError: (error: Error) => void;
}

export type Stored<T> = { readonly status: "stored"; readonly value: T } | { readonly status: "storeAway" };

/**
 * What was hard to come by is not lost because the store is away for a while: it is written again until it is taken. Throws what is not the store being away. A write whose answer got
 * lost is written twice, which the store takes for one.
 */
export async function untilStored<T>(
  write: () => Promise<T>,
  { forMs, giveUp, onError }: KeepOptions,
): Promise<Stored<T>> {
  const untilMs = performance.now() + forMs;
  for (let waitMs = firstWaitMs; ; waitMs = Math.min(2 * waitMs, longestWaitMs)) {
    try {
      return { status: "stored", value: await write() };
    } catch (error) {
      if (storeTrouble(error) === null) throw error;
      if (waitMs === firstWaitMs)
        onError(new Error(`what was worked is kept until the store is back: ${String(error)}`));
      if (giveUp.aborted || performance.now() > untilMs) return { status: "storeAway" };
    }
    await pause((waitMs * (1 + Math.random())) / 2, giveUp);
  }
}

function pause(ms: number, giveUp: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      clearTimeout(timer);
      giveUp.removeEventListener("abort", end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    giveUp.addEventListener("abort", end);
  });
}
