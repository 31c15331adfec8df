import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";

/**
 * The place to fill up at on the way from one place to another that costs the least time: a water point, or one of the crew's bases, its own and where the day begins
 * and ends.
 */
export function nearestWater(
  problem: Problem,
  bases: readonly [home: number, start: number, end: number],
  from: number,
  to: number,
  addL: number,
): number {
  const { travelMin, places, fillLPerMin, waterPlaces } = problem;
  let best = bases[0];
  let bestMin = Number.POSITIVE_INFINITY;
  for (let w = -bases.length; w < waterPlaces.length; w++) {
    const water = w < 0 ? bases[w + bases.length]! : waterPlaces[w]!;
    const minutes =
      travelMin[from * places.length + water]! + travelMin[water * places.length + to]! + addL / fillLPerMin[water]!;
    if (minutes < bestMin) {
      bestMin = minutes;
      best = water;
    }
  }
  return best;
}

/** When a work is done: from its first to its last minute, with the pauses between its stretches as starts and ends in turn. */
export interface Timing {
  startMin: number;
  endMin: number;
  readonly pauses: number[];
}

/**
 * The times at which work of so many minutes is done first, from `fromMin` on: in one window, or in stretches with pauses while its windows are closed, and never
 * while another crew is over the field. False when there are none in the slot's shift, or not from the minute that a lock names.
 */
export function findTiming(
  problem: Problem,
  state: State,
  slot: number,
  index: number,
  type: number,
  night: number,
  fromMin: number,
  minutes: number,
  found: Timing,
): boolean {
  const block = problem.blocks[index]!;
  const variant = (block.ground * problem.types.length + type) * 2 + night;
  const windows = problem.windows[variant]!;
  if (windows === null) return false;
  const { shiftToMin, day } = problem.slots[slot]!;
  const fixedMin = problem.locks.startMin[index]!;
  found.endMin = Number.POSITIVE_INFINITY;
  for (let w = problem.firstWindow[variant * problem.calendar.dates.length + day]!; w < windows.length; w += 2) {
    if (windows[w]! > shiftToMin || windows[w]! >= found.endMin) break;
    let start = Math.max(fromMin, windows[w]!);
    // Another crew over the field is waited for; the work then begins anew.
    while (timeFrom(problem, windows, w, start, minutes, tried)) {
      const clearAt = clearFrom(problem, state, slot, index, start, tried.endMin);
      if (clearAt > start) {
        start = clearAt;
        continue;
      }
      if (tried.endMin < found.endMin) {
        found.startMin = start;
        found.endMin = tried.endMin;
        if (found.pauses.length > 0) found.pauses.length = 0;
        for (const min of tried.pauses) found.pauses.push(min);
      }
      break;
    }
  }
  return found.endMin < Number.POSITIVE_INFINITY && (fixedMin < 0 || found.startMin === fixedMin);
}

const tried: Timing = { startMin: 0, endMin: 0, pauses: [] };

/** The times of work begun at a minute of window `w`; false where it cannot be. */
export function timeFrom(
  problem: Problem,
  windows: Int32Array,
  w: number,
  startMin: number,
  minutes: number,
  timing: Timing,
): boolean {
  const { pauseMaxMin, stretchMinMin, resumeMin } = problem.operation.settings.planning;
  timing.startMin = startMin;
  if (timing.pauses.length > 0) timing.pauses.length = 0;
  let atMin = startMin;
  let leftMin = minutes;
  let at = w;
  for (;;) {
    if (atMin + leftMin <= windows[at + 1]!) {
      timing.endMin = atMin + leftMin;
      return true;
    }
    // The stretch that is left must not be too short: this one then ends the sooner.
    const stretchMin = Math.min(windows[at + 1]! - atMin, leftMin + resumeMin - stretchMinMin);
    at += 2;
    // Windows too short for a stretch are passed over.
    while (at < windows.length && windows[at + 1]! - windows[at]! < stretchMinMin) at += 2;
    const endMin = atMin + stretchMin;
    if (stretchMin < stretchMinMin || at >= windows.length || windows[at]! - endMin > pauseMaxMin) return false;
    timing.pauses.push(endMin, windows[at]!);
    leftMin += resumeMin - stretchMin;
    atMin = windows[at]!;
  }
}

/** The first minute at which no other crew is over the field of a block that is worked between two minutes, as far as crews that meet it there go. */
function clearFrom(
  problem: Problem,
  state: State,
  slot: number,
  index: number,
  startMin: number,
  endMin: number,
): number {
  let clearAt = startMin;
  for (const other of problem.blocksOfField[problem.blocks[index]!.field]!) {
    const otherSlot = state.slotOf[other]!;
    if (otherSlot < 0 || otherSlot === slot || other === index) continue;
    if (state.startMin[other]! < endMin && startMin < state.endMin[other]!) {
      clearAt = Math.max(clearAt, state.endMin[other]!);
    }
  }
  return clearAt;
}
