import { useSyncExternalStore } from "react";

interface Said {
  readonly words: string;
  readonly isBad: boolean;
}
let said: Said = { words: "", isBad: false };
const hearers = new Set<() => void>();

/** One line that everybody hears, screen readers too: what has just been done, or what went wrong. */
export function say(words: string, isBad = false): void {
  said = { words, isBad };
  for (const hear of hearers) hear();
}

export function Say() {
  const { isBad, words } = useSyncExternalStore(
    (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    () => said,
  );
  return (
    <p className={isBad ? "said bad" : "said"} role="status">
      {words}
    </p>
  );
}
