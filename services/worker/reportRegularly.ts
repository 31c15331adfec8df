import type { Heard } from "../store/starts.ts";

const everyMs = 250;
/** So often at least, also when there is nothing to tell: that this worker lives, and to hear whether the work is still wanted. */
export const livesEveryMs = 1_000;

export interface Reporter<Progress> {
  onProgress(progress: Progress): void;
  /** Waits for a report that is on its way. */
  close(): Promise<void>;
}

/** Threads tell more often than anybody reads: the latest is passed on now and then, one report at a time. */
export function reportRegularly<Progress>(
  report: (progress: Progress) => Promise<Heard>,
  onStop: (why: Exclude<Heard, "goOn">) => void,
  onError: (error: Error) => void,
): Reporter<Progress> {
  let latest: { readonly progress: Progress } | null = null;
  let sending: Promise<void> | null = null;
  const send = async () => {
    if (!latest) return;
    const { progress } = latest;
    latest = null;
    const heard = await report(progress);
    if (heard !== "goOn") onStop(heard);
  };
  const timer = setInterval(() => {
    // A report that fails is not worth ending the work for.
    sending ??= send()
      .catch(onError)
      .finally(() => {
        sending = null;
      });
  }, everyMs);
  return {
    onProgress(progress) {
      latest = { progress };
    },
    async close() {
      clearInterval(timer);
      await sending;
    },
  };
}
