/** How a thread has ended that came to nothing. */
export interface Crash {
  readonly how: "threw" | "endedSilently" | "outOfMemory";
  readonly message: string;
}

/** Of a thread's `error`. */
export function crashOf(error: Error): Crash {
  const isOutOfMemory = (error as { code?: unknown }).code === "ERR_WORKER_OUT_OF_MEMORY";
  return isOutOfMemory
    ? { how: "outOfMemory", message: "there was not enough memory for it" }
    : { how: "threw", message: error.message || error.name };
}

/** Of a thread's `exit`, when it has said nothing. */
export function silentEnd(what: string, code: number): Crash {
  return { how: "endedSilently", message: `${what} has ended with ${code}, without a word` };
}
