import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";

/** The place to fill up at on the way from one place to another that costs the least time. */
export function nearestWater(problem: Problem, base: number, from: number, to: number, addL: number): number {
  const { travelMin, places, fillLPerMin } = problem;
  let best = base;
  let bestMin = Number.POSITIVE_INFINITY;
  for (let w = -1; w < problem.waterPlaces.length; w++) {
    const water = w < 0 ? base : problem.waterPlaces[w]!;
    const minutes =
      travelMin[from * places.length + water]! + travelMin[water * places.length + to]! + addL / fillLPerMin[water]!;
    if (minutes < bestMin) {
      bestMin = minutes;
      best = water;
    }
  }
  return best;
}

/** The first minute from `fromMin` at which the whole work fits a window and no other crew is over the field, or -1. */
export function earliestStart(
  problem: Problem,
  state: State,
  slot: number,
  index: number,
  type: number,
  night: number,
  day: number,
  fromMin: number,
  minutes: number,
): number {
  const block = problem.blocks[index]!;
  const variant = (block.ground * problem.types.length + type) * 2 + night;
  const windows = problem.windows[variant]!;
  if (windows === null) return -1;
  const beside = problem.blocksOfField[block.field]!;
  const { shiftToMin } = problem.slots[slot]!;
  for (let w = problem.firstWindow[variant * problem.calendar.dates.length + day]!; w < windows.length; w += 2) {
    if (windows[w]! > shiftToMin) return -1;
    const close = windows[w + 1]!;
    let start = Math.max(fromMin, windows[w]!);
    while (start + minutes <= close) {
      let clearAt = start;
      for (const other of beside) {
        const otherSlot = state.slotOf[other]!;
        if (otherSlot < 0 || otherSlot === slot || other === index) continue;
        if (state.startMin[other]! < start + minutes && start < state.endMin[other]!) {
          clearAt = Math.max(clearAt, state.endMin[other]!);
        }
      }
      if (clearAt === start) return start;
      start = clearAt;
    }
  }
  return -1;
}
