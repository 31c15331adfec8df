import { useSyncExternalStore } from "react";

/** As the styles have it. */
const narrow = "(max-width: 44rem)";

function subscribe(onChange: () => void): () => void {
  const query = window.matchMedia(narrow);
  query.addEventListener("change", onChange);
  return () => query.removeEventListener("change", onChange);
}

/** Whether the window is as narrow as a phone. */
export const useIsPhone = (): boolean => useSyncExternalStore(subscribe, () => window.matchMedia(narrow).matches);
