const everyMs = 250;

export interface Reporter<Progress> {
  onProgress(progress: Progress): void;
  /** Waits for a report that is on its way. */
  close(): Promise<void>;
}

/** Threads tell more often than anybody reads: the latest is passed on now and then, one report at a time. */
export function reportRegularly<Progress>(
  report: (progress: Progress) => Promise<{ readonly shouldStop: boolean }>,
  onShouldStop: () => void,
  onError: (error: Error) => void,
): Reporter<Progress> {
  let latest: { readonly progress: Progress } | null = null;
  let sending: Promise<void> | null = null;
  const send = async () => {
    if (!latest) return;
    const { progress } = latest;
    latest = null;
    const { shouldStop } = await report(progress);
    if (shouldStop) onShouldStop();
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
