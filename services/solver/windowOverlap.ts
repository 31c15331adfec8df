import type { Problem } from "./problem.ts";

/**
 * The most minutes of one work, if need be with pauses, that windows of the ground for the type share with the slot's shift: of windows that pauses may lie between
 * the sum, less what starting up again takes.
 */
export function windowOverlap(
  problem: Pick<Problem, "slots" | "crews" | "types" | "windows" | "operation">,
  ground: number,
  type: number,
  slot: number,
): number {
  const { crew, shiftFromMin, shiftToMin } = problem.slots[slot]!;
  const { pauseMaxMin, stretchMinMin, resumeMin } = problem.operation.settings.planning;
  const night = problem.crews[crew]!.nightWork && problem.types[type]!.nightCapable ? 1 : 0;
  const windows = problem.windows[(ground * problem.types.length + type) * 2 + night] ?? null;
  let most = 0;
  if (windows === null) return most;
  let sum = 0;
  let closedAt = Number.NEGATIVE_INFINITY;
  for (let w = 0; w < windows.length; w += 2) {
    const openMin = Math.max(windows[w]!, shiftFromMin);
    const minutes = Math.min(windows[w + 1]!, shiftToMin) - openMin;
    if (minutes <= 0) continue;
    most = Math.max(most, minutes);
    // Windows too short for a stretch are passed over.
    if (minutes < stretchMinMin) continue;
    sum = pauseMaxMin > 0 && openMin - closedAt <= pauseMaxMin ? sum + minutes - resumeMin : minutes;
    closedAt = windows[w + 1]!;
    most = Math.max(most, sum);
  }
  return most;
}
