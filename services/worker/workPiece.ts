import type { Worked, WorkHandler } from "../queue/queue.ts";
import type { EndedJob } from "../sight/endedJob.ts";
import type { GivenBack, Heard } from "../store/starts.ts";
import { storeTrouble } from "../store/trouble.ts";
import { type Ending, endings, judge, keptForS } from "./endings.ts";
import { livesEveryMs, reportRegularly } from "./reportRegularly.ts";
import { untilStored } from "./untilStored.ts";

/** How a run has ended by itself, or that it was killed. */
export type RunEnding =
  | Extract<Ending, "done" | "threw" | "checkerFaulted" | "endedSilently" | "outOfMemory">
  | "killed";

export interface Run<Progress, Outcome> {
  readonly ended: Promise<RunEnding>;
  /** What is written of it when it has ended. */
  outcome(wasCancelled: boolean): Outcome;
  progress(): Progress;
  /** What there is to tell of a plan. */
  facts(): Pick<EndedJob, "gapFrac" | "firstPlanSeconds" | "windows">;
  /** Comes to an end soon, perhaps with what it has. */
  cancel(): void;
  kill(): void;
}

interface Begun {
  readonly status: "go";
  readonly start: number;
  readonly alone: boolean;
}

/** What plan requests and parts of studies are worked by; ids are the queue's. */
export interface PieceKind<Go extends Begun, Progress, Outcome> {
  readonly queue: EndedJob["queue"];
  start(id: string): Promise<Go | { readonly status: "skip" | "busy" }>;
  run(id: string, go: Go, onProgress: (progress: Progress) => void): Run<Progress, Outcome>;
  report(id: string, start: number, progress: Progress): Promise<Heard>;
  giveBack(id: string, back: GivenBack): Promise<void>;
  finish(id: string, outcome: Outcome): Promise<boolean>;
  failed(message: string): Outcome;
  /** When it has ended, here or elsewhere. */
  afterwards(id: string): Promise<void>;
}

export type TellError = (error: Error) => void;
export type TellJob = (id: string, job: EndedJob) => void;

/** Works a piece to its end, whatever comes: endings.ts says what follows from what. */
export function pieceHandler<Go extends Begun, Progress, Outcome>(
  kind: PieceKind<Go, Progress, Outcome>,
  onError: TellError,
  onJob: TellJob = () => undefined,
): WorkHandler {
  return async (id, signal) => {
    const begun = await begin(kind, id, onError);
    if (begun === "ended") await kind.afterwards(id);
    if (begun === "ended" || "againInMs" in begun) return begun;
    const { start, alone } = begun;
    const beganMs = performance.now();
    const run = kind.run(id, begun, (progress) => reporter.onProgress(progress));
    let why: Exclude<Heard, "goOn"> | "shutdown" | null = null;
    const stop = (reason: NonNullable<typeof why>) => {
      why ??= reason;
      if (reason === "cancelled") run.cancel();
      else run.kill();
    };
    const reporter = reportRegularly((progress: Progress) => kind.report(id, start, progress), stop, onError);
    const timer = setInterval(() => reporter.onProgress(run.progress()), livesEveryMs);
    const onAbort = () => stop(signal.reason === "shutdown" ? "shutdown" : "cancelled");
    signal.addEventListener("abort", onAbort);
    if (signal.aborted) onAbort();
    const ran = await run.ended;
    signal.removeEventListener("abort", onAbort);
    try {
      const ending = endingOf(ran, why);
      const seconds = (performance.now() - beganMs) / 1000;
      onJob(id, { queue: kind.queue, ending, seconds, starts: start, ...run.facts() });
      const verdict = judge(ending, start);
      switch (verdict.next) {
        case "again":
          await kind.giveBack(id, { start, startCounts: true, alone: alone || verdict.alone });
          return { againInMs: verdict.afterMs };
        case "back":
          await kind.giveBack(id, { start, startCounts: false, alone });
          return "giveBack";
        case "keep":
        case "fail":
        case "cancel":
          await finish(kind, id, run.outcome(ending === "cancelled"), signal, onError);
      }
    } finally {
      // Until it is stored this worker tells that it lives, so that nobody else begins it.
      clearInterval(timer);
      await reporter.close();
    }
    await kind.afterwards(id);
    return "ended";
  };
}

function endingOf(ran: RunEnding, why: "cancelled" | "overtaken" | "shutdown" | null): Ending {
  if (why === "cancelled") return "cancelled";
  return ran === "killed" ? (why ?? "cancelled") : ran;
}

async function begin<Go extends Begun, Progress, Outcome>(
  kind: PieceKind<Go, Progress, Outcome>,
  id: string,
  onError: TellError,
): Promise<Go | Exclude<Worked, "giveBack">> {
  try {
    const begun = await kind.start(id);
    if (begun.status === "go") return begun as Go;
    return begun.status === "skip" ? "ended" : { againInMs: endings.elsewhere.afterS * 1000 };
  } catch (error) {
    onError(error instanceof Error ? error : new Error(String(error)));
    if (storeTrouble(error) !== null) return { againInMs: endings.storeAwayAtStart.afterS * 1000 };
    await kind.finish(id, kind.failed(`It could not be begun: ${wordsOf(error)}`));
    return "ended";
  }
}

async function finish<Go extends Begun, Progress, Outcome>(
  kind: PieceKind<Go, Progress, Outcome>,
  id: string,
  outcome: Outcome,
  signal: AbortSignal,
  onError: TellError,
): Promise<void> {
  const keeping = new AbortController();
  const onAbort = () => signal.reason === "shutdown" && keeping.abort();
  signal.addEventListener("abort", onAbort);
  onAbort();
  const store = (what: Outcome) =>
    untilStored(() => kind.finish(id, what), { forMs: keptForS * 1000, giveUp: keeping.signal, onError });
  try {
    const stored = await store(outcome).catch((error: unknown) => {
      onError(error instanceof Error ? error : new Error(String(error)));
      return store(kind.failed(`What came of it cannot be stored: ${wordsOf(error)}`));
    });
    if (stored.status === "storeAway") onError(new Error(`the result of ${id} is lost: the store did not come back`));
  } finally {
    signal.removeEventListener("abort", onAbort);
  }
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
