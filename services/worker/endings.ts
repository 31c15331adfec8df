import { silentAfterS, startsMax } from "../store/starts.ts";

/** What is done with a piece of work, a plan request or a part of a study, when the work on it has ended in some way. */
interface Consequence {
  /**
   * keep: its result is stored. fail: it has failed for good. cancel: it is ended as nobody wants it. again: it is worked once more, up to so many starts in all, and fails after that. back: it goes to another
   * worker, and the start does not count. wait: it was not begun, and is tried again for as long as it takes. leave: another worker has it, and nothing is written.
   */
  readonly next: "keep" | "fail" | "cancel" | "again" | "back" | "wait" | "leave";
  readonly startsMost?: number;
  readonly afterS?: number;
  /** With as little memory beside it as will do. */
  readonly alone?: boolean;
}

/** Every way in which work on a piece ends. What the same input and seed bring about again is not worked again. The seconds are our choice. */
export const endings = {
  /** It has come to a result that may be kept. */
  done: { next: "keep" },
  /** Its thread threw. */
  threw: { next: "fail" },
  checkerFaulted: { next: "fail" },
  /** What a study's parts came to could not be put together. */
  conclusionFailed: { next: "fail" },
  /** What is stored of it cannot be read or begun, though the store answers. */
  unreadable: { next: "fail" },
  /** The store answers and refuses the result. */
  resultRefused: { next: "fail" },
  /** Its thread has ended without a word. */
  endedSilently: { next: "again", startsMost: 2, afterS: 5 },
  outOfMemory: { next: "again", startsMost: 2, afterS: 1, alone: true },
  /** Seen by others: its worker was killed, or has been silent for so long. The store counts and ends it, since its worker cannot. */
  workerDied: { next: "again", startsMost: startsMax, afterS: silentAfterS },
  /** The store does not answer at the start. */
  storeAwayAtStart: { next: "wait", afterS: 2 },
  /** The store has not come back in `keptForS` to take the result, which is lost; its start stands, and others see a silent worker. */
  storeAwayAtEnd: { next: "leave" },
  /** Another worker has it and lives; seen when the queue was lost, or a lock. */
  elsewhere: { next: "wait", afterS: 2 },
  /** While this worker was silent another has begun or ended it. */
  overtaken: { next: "leave" },
  cancelled: { next: "cancel" },
  shutdown: { next: "back" },
} as const satisfies Record<string, Consequence>;

export type Ending = keyof typeof endings;

/** Our choice: a result is kept so long for a store that is away. */
export const keptForS = 3_600;

export type Verdict =
  | { readonly next: "keep" | "fail" | "cancel" | "back" | "leave" }
  | { readonly next: "again"; readonly afterMs: number; readonly alone: boolean }
  | { readonly next: "wait"; readonly afterMs: number };

/** What follows for a piece whose start of this number has ended so. */
export function judge(ending: Ending, start: number): Verdict {
  const { next, startsMost = 0, afterS = 0, alone = false }: Consequence = endings[ending];
  const afterMs = afterS * 1000;
  if (next === "again") return start < startsMost ? { next, afterMs, alone } : { next: "fail" };
  return next === "wait" ? { next, afterMs } : { next };
}
