/** Our choice: one Ctrl-C often arrives twice, from the terminal and from npm, so what follows so soon is the same. */
const sameWithinMs = 1_000;

export interface EndSignals {
  readonly stopWanted: Promise<"signal">;
  /** Aborted when it is wanted a second time: what runs is no longer waited for. */
  readonly hurry: AbortSignal;
  readonly stopListening: () => void;
}

export function endSignals(): EndSignals {
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  const hurry = new AbortController();
  let firstAtMs: number | null = null;
  let stop = () => {};
  const stopWanted = new Promise<"signal">((resolve) => {
    stop = () => resolve("signal");
  });
  const onSignal = () => {
    if (firstAtMs !== null && performance.now() - firstAtMs > sameWithinMs) hurry.abort();
    firstAtMs ??= performance.now();
    stop();
  };
  for (const signal of signals) process.on(signal, onSignal);
  return {
    stopWanted,
    hurry: hurry.signal,
    stopListening: () => {
      for (const signal of signals) process.off(signal, onSignal);
    },
  };
}
