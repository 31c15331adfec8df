import type { Worker } from "node:worker_threads";
import { startThread } from "./startThread.ts";

export interface AskedThreadLimits {
  /** Questions that are not answered yet. */
  readonly most: number;
  /** A thread that is silent so long with a question before it is ended. */
  readonly silentMs: number;
  /** A thread that nobody has asked for so long gives its memory back; null: never. */
  readonly restMs: number | null;
}

export interface AskedThreadOptions {
  /** What it is called where its troubles are told. */
  readonly name: string;
  readonly script: URL;
  readonly limits: AskedThreadLimits;
  readonly onError: (error: unknown) => void;
}

/** A thread that answers questions one after the other and lives on between them; the first question starts it, and the next one after it has ended starts another. */
export interface AskedThread<Question extends object, Answer> {
  isBusy(): boolean;
  /** `crashed`: the thread ended, or could not answer this one. */
  ask(question: Question): Promise<Answer | "crashed">;
  close(): Promise<void>;
}

/** What a thread says of the question with the id. */
export type Said<Answer> = { readonly id: number } & (Answer | { readonly kind: "failed"; readonly message: string });

export function createAskedThread<Question extends object, Answer extends object>({
  name,
  script,
  limits: { most, silentMs, restMs },
  onError,
}: AskedThreadOptions): AskedThread<Question, Answer> {
  const waiting = new Map<number, (answer: Answer | "crashed") => void>();
  let worker: Worker | null = null;
  let timer: NodeJS.Timeout | undefined;
  let lastId = 0;

  const listenOn = () => {
    clearTimeout(timer);
    if (waiting.size > 0) timer = setTimeout(() => end(new Error(`${name}: the thread was silent`)), silentMs).unref();
    else if (restMs !== null) timer = setTimeout(() => end(null), restMs).unref();
  };
  const settle = (id: number, answer: Answer | "crashed") => {
    const tell = waiting.get(id);
    waiting.delete(id);
    tell?.(answer);
  };
  const end = (why: Error | null) => {
    const ended = worker;
    worker = null;
    clearTimeout(timer);
    // What it comes to yet is of no more interest, but may not end the process.
    ended?.removeAllListeners().on("error", () => undefined);
    if (why !== null) onError(why);
    for (const id of [...waiting.keys()]) settle(id, "crashed");
    return ended?.terminate();
  };
  const started = (): Worker => {
    if (worker !== null) return worker;
    const fresh = startThread(script, null);
    fresh.on("message", ({ id, ...said }: Said<Answer>) => {
      const failed = "kind" in said && said.kind === "failed";
      if (failed) onError(new Error(`${name}: ${(said as { message: string }).message}`));
      settle(id, failed ? "crashed" : (said as unknown as Answer));
      listenOn();
    });
    fresh.on("error", (error) => void end(error));
    fresh.on("exit", (code) => void end(new Error(`${name}: the thread has ended with ${code}`)));
    worker = fresh;
    return fresh;
  };

  return {
    isBusy: () => waiting.size >= most,
    ask: (question) =>
      new Promise((resolve) => {
        const id = ++lastId;
        waiting.set(id, resolve);
        started().postMessage({ ...question, id });
        if (waiting.size === 1) listenOn();
      }),
    async close() {
      await end(null);
    },
  };
}
