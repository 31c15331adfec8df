import { useCallback, useEffect, useRef, useState } from "react";
import { NoAnswer, SignedOut } from "../api/call.ts";
import { tellSignedOut } from "../session/signedOut.ts";

export interface Asked<Value> {
  /** What came last; stays while it is asked for again. Null: nothing has come yet. */
  readonly value: Value | null;
  /** Why nothing newer has come; null: nothing has failed. */
  readonly error: Error | null;
  readonly again: () => void;
}

const againAfterMs = 4_000;

/**
 * What a screen has to ask the server for. `ask` must be kept between drawings (useCallback): a new one is asked at once. Where nobody answers it is asked again by itself; null asks nothing.
 */
export function useAsked<Value>(asking: ((signal: AbortSignal) => Promise<Value>) | null): Asked<Value> {
  const [state, setState] = useState<{ of: unknown; value: Value | null; error: Error | null }>({
    of: asking,
    value: null,
    error: null,
  });
  const [round, setRound] = useState(0);
  const asked = useRef(asking);
  asked.current = asking;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another round asks the same again.
  useEffect(() => {
    if (asking === null) return;
    const stop = new AbortController();
    let timer: ReturnType<typeof setTimeout> | undefined;
    asking(stop.signal).then(
      (value) => {
        if (!stop.signal.aborted) setState({ of: asking, value, error: null });
      },
      (error: Error) => {
        if (stop.signal.aborted) return;
        if (error instanceof SignedOut) tellSignedOut();
        if (error instanceof NoAnswer) timer = setTimeout(() => setRound((one) => one + 1), againAfterMs);
        setState((before) => ({ of: asking, value: before.of === asking ? before.value : null, error }));
      },
    );
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [asking, round]);
  const again = useCallback(() => setRound((one) => one + 1), []);
  const isOfNow = state.of === asking;
  return { value: isOfNow ? state.value : null, error: isOfNow ? state.error : null, again };
}
