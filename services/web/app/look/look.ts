import { useSyncExternalStore } from "react";

/** How the screens look; the sun look is for a screen that lies in bright sun. */
export const looks = ["auto", "day", "night", "sun"] as const;
export type Look = (typeof looks)[number];

const keptAs = "calmhour.look";
const hearers = new Set<() => void>();

export function keptLook(): Look {
  return looks.find((one) => one === localStorage.getItem(keptAs)) ?? "auto";
}

export function applyLook(look: Look = keptLook()): void {
  document.documentElement.dataset.look = look;
}

export function keepLook(look: Look): void {
  localStorage.setItem(keptAs, look);
  applyLook(look);
  for (const hear of hearers) hear();
}

export const useLook = (): Look =>
  useSyncExternalStore((hear) => {
    hearers.add(hear);
    return () => hearers.delete(hear);
  }, keptLook);
