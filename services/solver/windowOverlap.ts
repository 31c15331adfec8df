import type { Problem } from "./problem.ts";

/** The longest stretch, in minutes, that a window of the ground for the type shares with the slot's shift. */
export function windowOverlap(
  problem: Pick<Problem, "slots" | "crews" | "types" | "windows">,
  ground: number,
  type: number,
  slot: number,
): number {
  const { crew, shiftFromMin, shiftToMin } = problem.slots[slot]!;
  const night = problem.crews[crew]!.nightWork && problem.types[type]!.nightCapable ? 1 : 0;
  const windows = problem.windows[(ground * problem.types.length + type) * 2 + night] ?? null;
  let longestMin = 0;
  if (windows === null) return longestMin;
  for (let w = 0; w < windows.length; w += 2) {
    longestMin = Math.max(longestMin, Math.min(windows[w + 1]!, shiftToMin) - Math.max(windows[w]!, shiftFromMin));
  }
  return longestMin;
}
