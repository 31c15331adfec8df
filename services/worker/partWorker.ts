import { partKey, partPiece } from "../queue/pieces.ts";
import type { WorkHandler, WorkQueue } from "../queue/queue.ts";
import type { Store } from "../store/store.ts";
import type { EndedPart, PartOutcome, StudyInput, StudyOutcome } from "../store/studyStore.ts";
import { createPartThreads, type PartRunOutcome, type PartThreads } from "./partThreads.ts";
import { reportRegularly } from "./reportRegularly.ts";

/** From what its parts came to, without chance or clock: two workers may do it at once. */
export type Conclude = (input: StudyInput, parts: readonly EndedPart[]) => StudyOutcome;

export interface PartWorkerParts {
  readonly store: Store;
  readonly queue: WorkQueue;
  /** The module that a thread runs: partThread.ts. */
  readonly threadScript: URL;
  readonly conclude: Conclude;
  readonly onError: (error: Error) => void;
}

export interface PartWorker {
  close(): Promise<void>;
}

const lookAfterEveryMs = 15_000;
/** More would only lie there: the rest comes when these have ended. Our choice. */
const mostFilled = 500;
const reportEveryMs = 1_000;

export async function startPartWorker(parts: PartWorkerParts): Promise<PartWorker> {
  await lookAfter(parts);
  const threads = createPartThreads(parts.threadScript);
  await parts.queue.process(createHandler(parts, threads));
  const timer = setInterval(() => {
    lookAfter(parts).catch(parts.onError);
  }, lookAfterEveryMs);
  return {
    async close() {
      clearInterval(timer);
      await parts.queue.close();
      await threads.close();
    },
  };
}

/** The store is the truth: what it holds unfinished is in the queue, also after the queue was lost; and no study waits for a worker that died before its conclusion. */
async function lookAfter(parts: PartWorkerParts): Promise<void> {
  const { store, queue } = parts;
  await queue.addInTurn((await store.unfinishedParts(mostFilled)).map(partPiece));
  for (const studyId of await store.studiesToConclude()) await concludeIfEnded(studyId, parts);
}

function createHandler(parts: PartWorkerParts, threads: PartThreads): WorkHandler {
  const { store, onError } = parts;
  return async (id, signal) => {
    const key = partKey(id);
    const start = await store.startPart(key);
    if (start.status === "go") {
      const run = threads.run({ studyId: key.studyId, input: start.input, ask: start.partAsk });
      let cancelled = false;
      const cancel = () => {
        cancelled = true;
        run.kill();
      };
      const reporter = reportRegularly((share: number) => store.reportPart(key, share), cancel, onError);
      // Also where a run has nothing to tell: the answer says whether it is still wanted.
      const timer = setInterval(() => reporter.onProgress(run.share()), reportEveryMs);
      const onAbort = () => (signal.reason === "shutdown" ? run.kill() : cancel());
      signal.addEventListener("abort", onAbort);
      if (signal.aborted) onAbort();
      const ran = await run.outcome;
      clearInterval(timer);
      await reporter.close();
      signal.removeEventListener("abort", onAbort);
      if (ran.status === "killed" && !cancelled) {
        await store.returnPart(key);
        return "giveBack";
      }
      await store.finishPart(key, outcomeOf(ran));
    }
    await concludeIfEnded(key.studyId, parts);
    return "ended";
  };
}

function outcomeOf(ran: PartRunOutcome): PartOutcome {
  switch (ran.status) {
    case "done":
      return ran;
    case "crashed":
      return { status: "failed", failure: { kind: "crashed", message: ran.message } };
    case "killed":
      return { status: "cancelled" };
  }
}

async function concludeIfEnded(studyId: string, { store, conclude }: PartWorkerParts): Promise<void> {
  const ended = await store.studyToConclude(studyId);
  if (ended === null) return;
  await store.concludeStudy(
    studyId,
    conclusionOf(() => conclude(ended.input, ended.parts)),
  );
}

/** A bug in a conclusion must not keep the study open for ever. */
function conclusionOf(conclude: () => StudyOutcome): StudyOutcome {
  try {
    return conclude();
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { status: "failed", failure: { kind: "conclusionFailed", message, part: null } };
  }
}
