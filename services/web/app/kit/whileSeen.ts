/** Keeps something going while the page is looked at. A browser opens six connections to a server for all of its tabs: streams of tabs that nobody sees would keep the one that is seen from reading. */
export function whileSeen(begin: () => () => void): () => void {
  let end: (() => void) | null = null;
  const judge = () => {
    const isSeen = document.visibilityState !== "hidden";
    if (isSeen && end === null) end = begin();
    if (!isSeen && end !== null) {
      end();
      end = null;
    }
  };
  document.addEventListener("visibilitychange", judge);
  judge();
  return () => {
    document.removeEventListener("visibilitychange", judge);
    end?.();
    end = null;
  };
}
