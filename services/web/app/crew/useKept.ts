import { useCallback, useEffect, useRef, useState } from "react";
import type { CrewKey } from "../../../../shared/contracts/access.ts";
import { type Answered, Refusal, SignedOut } from "../api/call.ts";
import { forget, keep, keptIn } from "../offline/keptDays.ts";
import { phoneStore } from "../offline/phoneStore.ts";
import { tellSignedOut } from "../session/signedOut.ts";

export interface KeptAnswer<Value> {
  /** As it was answered last, perhaps on another day; null: nothing has come yet. */
  readonly value: Value | null;
  /** When it came. */
  readonly keptAtMs: number | null;
  /** The server has nothing by that name. */
  readonly isGone: boolean;
  /** Why nothing newer has come; null: it is what the server says. */
  readonly error: Error | null;
  /** Nothing is known yet, neither from here nor from the server. */
  readonly isOpen: boolean;
  /** How far the clock of this device is ahead of the server's, as far as it was told. */
  readonly aheadMs: number | null;
  readonly again: () => void;
}

export interface KeptAsk<Value> {
  readonly crew: CrewKey;
  /** Null: nothing is asked for. */
  readonly key: string | null;
  /** Must be kept between drawings (useCallback); a new one is asked at once. */
  readonly ask: (signal: AbortSignal) => Promise<Answered<Value>>;
  /** False: of a crew that is not the caller's own; nothing of it stays on the device. */
  readonly isKept: boolean;
  readonly everyMs: number;
}

type State<Value> = Omit<KeptAnswer<Value>, "again"> & { readonly of: string | null };
const nothing = { value: null, keptAtMs: null, isGone: false, error: null, isOpen: true, aheadMs: null };

/** What the server says, asked again and again while the page is looked at; without a network what it said last. */
export function useKept<Value>({ ask, crew, everyMs, isKept, key }: KeptAsk<Value>): KeptAnswer<Value> {
  const [state, setState] = useState<State<Value>>({ ...nothing, of: key });
  const [round, setRound] = useState(0);
  const again = useCallback(() => setRound((one) => one + 1), []);
  const { crewId, operationId } = crew;
  const loaded = useRef<string | null>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another round asks the same again.
  useEffect(() => {
    if (key === null) return;
    const stop = new AbortController();
    const set = (change: Partial<State<Value>>) => {
      if (stop.signal.aborted) return;
      setState((before) => ({ ...(before.of === key ? before : nothing), of: key, ...change }));
    };
    const asked = ask(stop.signal).then(
      async ({ body, servedAtMs }) => {
        const aheadMs = servedAtMs === null ? null : Date.now() - servedAtMs;
        set({ value: body, keptAtMs: Date.now(), isGone: false, error: null, isOpen: false, aheadMs });
        if (isKept) {
          const store = await phoneStore();
          await keep(store, { operationId, crewId }, key, body, Date.now());
        }
      },
      async (error: Error) => {
        if (stop.signal.aborted) return;
        if (error instanceof SignedOut) tellSignedOut();
        const isGone = error instanceof Refusal && error.status === 404;
        // What is kept may still be on its way from the disk.
        if (!isGone) return set(isKept && loaded.current !== key ? { error } : { error, isOpen: false });
        set({ value: null, isGone: true, error: null, isOpen: false });
        if (isKept) await forget(await phoneStore(), key);
      },
    );
    asked.catch(() => undefined);
    if (isKept && loaded.current !== key) {
      phoneStore()
        .then((store) => keptIn<Value>(store, key))
        .then((kept) => {
          if (stop.signal.aborted) return;
          loaded.current = key;
          if (kept === undefined) {
            setState((before) => (before.of === key && before.error !== null ? { ...before, isOpen: false } : before));
            return;
          }
          // The server's answer may have been quicker.
          setState((before) =>
            before.of === key && (before.value !== null || before.isGone)
              ? before
              : {
                  ...(before.of === key ? before : nothing),
                  of: key,
                  value: kept.value,
                  keptAtMs: kept.keptAtMs,
                  isOpen: false,
                },
          );
        })
        .catch(() => {
          loaded.current = key;
        });
    }
    return () => stop.abort();
  }, [ask, key, isKept, operationId, crewId, round]);

  useEffect(() => {
    const whenSeen = () => {
      if (document.visibilityState === "visible") again();
    };
    const timer = setInterval(whenSeen, everyMs);
    window.addEventListener("online", again);
    document.addEventListener("visibilitychange", whenSeen);
    return () => {
      clearInterval(timer);
      window.removeEventListener("online", again);
      document.removeEventListener("visibilitychange", whenSeen);
    };
  }, [again, everyMs]);

  const { of, ...present } = state.of === key ? state : { ...nothing, of: key };
  return { ...present, again };
}
