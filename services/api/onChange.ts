import type { Store } from "../store/store.ts";

/** Looks now, and again whenever the thing may have changed; never twice at once. The returned function ends it. */
export function onChange(
  store: Store,
  id: string,
  look: () => Promise<void>,
  onError: (error: unknown) => void,
): () => void {
  let looking = false;
  let lookAgain = false;
  let over = false;
  const stopWatching = store.watch(id, () => void lookOnce());

  async function lookOnce(): Promise<void> {
    if (over) return;
    lookAgain = looking;
    if (looking) return;
    looking = true;
    try {
      await look();
    } catch (error) {
      onError(error);
    }
    looking = false;
    if (lookAgain) void lookOnce();
  }
  void lookOnce();
  return () => {
    over = true;
    stopWatching();
  };
}
