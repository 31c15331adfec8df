import type { StudyInput } from "../store/studyStore.ts";
import { startThread } from "../threads/startThread.ts";

/** What a thread is given. */
export interface PartWork {
  readonly input: StudyInput;
  readonly ask: unknown;
}

export type FromPartThread =
  | { readonly kind: "share"; readonly share: number }
  | { readonly kind: "result"; readonly result: unknown };

export type PartRunOutcome =
  | { readonly status: "done"; readonly result: unknown }
  | { readonly status: "crashed"; readonly message: string }
  | { readonly status: "killed" };

export interface PartRun {
  readonly outcome: Promise<PartRunOutcome>;
  /** How much of it is done. */
  share(): number;
  kill(): void;
}

/** Works one part of a study in a thread of its own, so that this one stays free to tell the queue that it is alive. */
export function runPart(script: URL, work: PartWork): PartRun {
  const worker = startThread(script, work);
  let share = 0;
  let end: (outcome: PartRunOutcome) => void = () => {};
  const outcome = new Promise<PartRunOutcome>((resolve) => {
    end = resolve;
  }).finally(() => worker.terminate());
  worker.on("message", (message: FromPartThread) => {
    if (message.kind === "share") share = message.share;
    else end({ status: "done", result: message.result });
  });
  worker.on("error", (error) => end({ status: "crashed", message: error.message }));
  worker.on("exit", (code) => end({ status: "crashed", message: `the run has ended with ${code}, without a result` }));
  return { outcome, share: () => share, kill: () => end({ status: "killed" }) };
}
