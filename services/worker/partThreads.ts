import type { Worker } from "node:worker_threads";
import type { StudyInput } from "../store/studyStore.ts";
import { startThread } from "../threads/startThread.ts";
import { type Crash, crashOf, silentEnd } from "./crash.ts";
import { createPlaces } from "./places.ts";
import { runsThatFit } from "./runsThatFit.ts";

/** What a thread is told to work. */
export interface PartWork {
  readonly studyId: string;
  readonly input: StudyInput;
  readonly ask: unknown;
}

export type FromPartThread =
  | { readonly kind: "share"; readonly share: number }
  | { readonly kind: "result"; readonly result: unknown };

export type PartRunOutcome =
  | { readonly status: "done"; readonly result: unknown }
  | ({ readonly status: "crashed" } & Crash)
  | { readonly status: "killed" };

export interface PartRun {
  readonly outcome: Promise<PartRunOutcome>;
  /** How much of it is done. */
  share(): number;
  kill(): void;
}

export interface PartThreads {
  /** Works one part in a thread of its own, so that this one stays free to tell the queue that it is alive; waits where operations are so large that no more fit into memory; `alone`: beside no other. */
  run(work: PartWork, room: { readonly alone: boolean }): PartRun;
  /** Ends the threads that wait; what runs has been killed before. */
  close(): Promise<void>;
}

/** Our choice: a thread takes a second or two of the processor to load what it needs, so it waits so long for another part. */
const waitsMs = 30_000;

export function createPartThreads(script: URL): PartThreads {
  const waiting = new Map<Worker, NodeJS.Timeout>();
  const take = (): Worker => {
    for (const [worker, timer] of waiting) {
      clearTimeout(timer);
      waiting.delete(worker);
      return worker;
    }
    return startThread(script, null);
  };
  const letWait = (worker: Worker) => {
    const end = () => {
      waiting.delete(worker);
      void worker.terminate();
    };
    worker.removeAllListeners();
    worker.once("error", end);
    worker.once("exit", end);
    waiting.set(worker, setTimeout(end, waitsMs).unref());
  };

  const places = createPlaces();

  return {
    run(work, { alone }) {
      let worker: Worker | null = null;
      let share = 0;
      let end: (outcome: PartRunOutcome) => void = () => {};
      const ended = new Promise<PartRunOutcome>((resolve) => {
        end = resolve;
      });
      const leave = places.enter(alone ? 1 : runsThatFit(work.input.operation), () => {
        worker = take();
        worker.removeAllListeners();
        worker.on("message", (message: FromPartThread) => {
          if (message.kind === "share") share = message.share;
          else end({ status: "done", result: message.result });
        });
        worker.on("error", (error) => end({ status: "crashed", ...crashOf(error) }));
        worker.on("exit", (code) => end({ status: "crashed", ...silentEnd("its thread", code) }));
        worker.postMessage(work);
      });
      const outcome = ended.then(async (came) => {
        if (worker !== null && came.status === "done") letWait(worker);
        else await worker?.terminate();
        leave();
        return came;
      });
      return { outcome, share: () => share, kill: () => end({ status: "killed" }) };
    },
    async close() {
      const threads = [...waiting.keys()];
      for (const timer of waiting.values()) clearTimeout(timer);
      waiting.clear();
      await Promise.all(threads.map((worker) => worker.terminate()));
    },
  };
}
