import { type RefObject, useEffect, useRef, useSyncExternalStore } from "react";
import { type Selected, weekAddress } from "./selected.ts";

/** As week.css has it. */
const besideBoard = "(min-width: 70rem)";

/** Whether there is room for anything beside the board. */
export function useIsBeside(): boolean {
  return useSyncExternalStore(
    (tell) => {
      const query = window.matchMedia(besideBoard);
      query.addEventListener("change", tell);
      return () => query.removeEventListener("change", tell);
    },
    () => window.matchMedia(besideBoard).matches,
  );
}

const pressed = '.board [aria-pressed="true"]';

/** What has just been chosen is seen: told beside the board and marked on it, wherever it was chosen; where there is no room for both, told. */
export function useChosenInSight(beside: RefObject<HTMLElement | null>, selected: Selected): void {
  const address = selected === null ? null : weekAddress("", selected);
  const before = useRef(address);
  useEffect(() => {
    if (before.current === address) return;
    before.current = address;
    const panel = beside.current;
    if (address === null || panel === null) return;
    const told = panel.querySelector<HTMLElement>(".chosen")!;
    if (!window.matchMedia(besideBoard).matches) {
      told.scrollIntoView({ block: "start" });
      return;
    }
    const isOnBoard = document.activeElement?.closest(".board") !== null;
    if (!isOnBoard) document.querySelector(pressed)?.scrollIntoView({ block: "nearest", inline: "nearest" });
    panel.scrollTo({ top: 0 });
  }, [address, beside]);
}

/** The keys go on from what was chosen. */
export function backToBoard(): void {
  document.querySelector<HTMLElement>(pressed)?.focus();
}
