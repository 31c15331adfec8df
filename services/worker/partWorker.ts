import { partKey, partPiece } from "../queue/pieces.ts";
import type { WorkQueue } from "../queue/queue.ts";
import type { Store } from "../store/store.ts";
import type { EndedPart, PartOutcome, PartStart, StudyInput, StudyOutcome } from "../store/studyStore.ts";
import { storeTrouble } from "../store/trouble.ts";
import { lookAfter } from "./lookAfter.ts";
import { createPartThreads, type PartRunOutcome, type PartThreads } from "./partThreads.ts";
import { type PieceKind, pieceHandler, type TellJob } from "./workPiece.ts";

/** From what its parts came to, without chance or clock: two workers may do it at once. */
export type Conclude = (input: StudyInput, parts: readonly EndedPart[]) => StudyOutcome;

export interface PartWorkerParts {
  readonly store: Store;
  readonly queue: WorkQueue;
  /** The module that a thread runs: partThread.ts. */
  readonly threadScript: URL;
  readonly conclude: Conclude;
  readonly onError: (error: Error) => void;
  readonly onJob?: TellJob;
}

export interface PartWorker {
  /** Begins nothing more; what runs may come to an end until `hurry` is aborted, and goes back then; at once if it is left out. */
  close(hurry?: AbortSignal): Promise<void>;
}

/** So many are always seen to. Where the store knows of more, but the queue holds fewer than these, it was lost, and all are added. Our choice. */
const seenTo = 500;
const all = 1_000_000;

export async function startPartWorker(parts: PartWorkerParts): Promise<PartWorker> {
  const { queue, onError, onJob } = parts;
  const threads = createPartThreads(parts.threadScript);
  await queue.process(pieceHandler(partsOfStudies(parts, threads), onError, onJob));
  const stopLooking = await lookAfter(() => fillAndConclude(parts), onError);
  return {
    async close(hurry) {
      stopLooking();
      await queue.close(hurry);
      await threads.close();
    },
  };
}

/** The store is the truth: what it holds unfinished is in the queue, also after the queue was lost; and no study waits for a worker that died before its conclusion. */
async function fillAndConclude(parts: PartWorkerParts): Promise<void> {
  const { store, queue } = parts;
  const first = await store.unfinishedParts(seenTo);
  const isLost = first.length === seenTo && (await queue.size()) < seenTo;
  await queue.addInTurn((isLost ? await store.unfinishedParts(all) : first).map(partPiece));
  for (const studyId of await store.studiesToConclude()) await concludeIfEnded(studyId, parts);
}

type Go = Extract<PartStart, { status: "go" }>;

function partsOfStudies(parts: PartWorkerParts, threads: PartThreads): PieceKind<Go, number, PartOutcome> {
  const { store } = parts;
  return {
    queue: "parts",
    start: (id) => store.startPart(partKey(id)),
    run(id, { input, partAsk, alone }) {
      const run = threads.run({ studyId: partKey(id).studyId, input, ask: partAsk }, { alone });
      let ran: PartRunOutcome = { status: "killed" };
      return {
        ended: run.outcome.then((outcome) => {
          ran = outcome;
          return ran.status === "crashed" ? ran.how : ran.status;
        }),
        outcome: (wasCancelled) => (wasCancelled ? { status: "cancelled" } : outcomeOf(ran)),
        progress: run.share,
        facts: () => ({ gapFrac: null, firstPlanSeconds: null, windows: 0 }),
        cancel: run.kill,
        kill: run.kill,
      };
    },
    report: (id, start, share) => store.reportPart(partKey(id), start, share),
    giveBack: (id, back) => store.returnPart(partKey(id), back),
    finish: (id, outcome) => store.finishPart(partKey(id), outcome),
    failed: (message) => ({ status: "failed", failure: { kind: "crashed", message } }),
    afterwards: (id) => concludeIfEnded(partKey(id).studyId, parts),
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
  try {
    const ended = await store.studyToConclude(studyId);
    if (ended !== null) await store.concludeStudy(studyId, conclude(ended.input, ended.parts));
  } catch (error) {
    if (storeTrouble(error) !== null) throw error;
    // A bug in a conclusion must not keep the study open for ever.
    const message = error instanceof Error ? error.message : String(error);
    await store.concludeStudy(studyId, {
      status: "failed",
      failure: { kind: "conclusionFailed", message, part: null },
    });
  }
}
