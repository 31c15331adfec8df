import { createDayRun } from "./dayWalk.ts";
import type { Problem } from "./problem.ts";
import { pickIndex, type Random } from "./random.ts";
import { keepRun } from "./recreate.ts";
import { loadStops, runDay } from "./runDay.ts";
import { clearStops, maxStops, type State } from "./state.ts";

/** Mean number of stops taken out and the longest string (Christiaens & Vanden Berghe 2020, sec. 5.2, and their values). */
const meanRemoved = 10;
const longestString = 10;
/** Share of ruins that empty whole crew-days, after which these may get other kits. Our choice, by trial. */
const wholeDayShare = 0.35;

const run = createDayRun();

/** Take strings of stops near the seed block, or whole crew-days, out of the plan. Every slot is told to `beforeChange` before it is changed. */
export function ruin(
  problem: Problem,
  state: State,
  seed: number,
  random: Random,
  beforeChange: (slot: number) => void,
): void {
  if (random() < wholeDayShare) ruinWholeDays(problem, state, seed, random, beforeChange);
  else ruinStrings(problem, state, seed, random, beforeChange);
}

function busySlots(problem: Problem, state: State): number[] {
  const busy: number[] = [];
  for (let slot = 0; slot < problem.slots.length; slot++) if (state.count[slot]! > 0) busy.push(slot);
  return busy;
}

/** Empty one or two crew-days; a second one shares the day, so that crews can change equipment. */
function ruinWholeDays(
  problem: Problem,
  state: State,
  seed: number,
  random: Random,
  beforeChange: (slot: number) => void,
): void {
  const busy = busySlots(problem, state);
  if (busy.length === 0) return;
  const first = state.slotOf[seed]! >= 0 ? state.slotOf[seed]! : busy[pickIndex(random, busy.length)]!;
  const chosen = [first];
  if (random() < 0.5) {
    const { day } = problem.slots[first]!;
    const beside = busy.filter((slot) => slot !== first && problem.slots[slot]!.day === day);
    if (beside.length > 0) chosen.push(beside[pickIndex(random, beside.length)]!);
  }
  for (const slot of chosen) {
    beforeChange(slot);
    clearStops(problem, state, slot);
  }
}

function ruinStrings(
  problem: Problem,
  state: State,
  seed: number,
  random: Random,
  beforeChange: (slot: number) => void,
): void {
  const busy = busySlots(problem, state).length;
  if (busy === 0) return;
  const meanStops = state.slotOf.reduce((sum, slot) => sum + (slot >= 0 ? 1 : 0), 0) / busy;
  const longest = Math.min(longestString, Math.max(1, meanStops));
  const mostStrings = (4 * meanRemoved) / (1 + longest) - 1;
  const strings = Math.floor(random() * mostStrings + 1);
  const ruined = new Set<number>();
  const visit = (block: number) => {
    const slot = state.slotOf[block]!;
    if (slot < 0 || ruined.has(slot)) return;
    const most = Math.min(longest, state.count[slot]!);
    const length = Math.floor(random() * most + 1);
    beforeChange(slot);
    cutString(problem, state, slot, block, length, random);
    ruined.add(slot);
  };
  visit(seed);
  for (const block of problem.neighbours[seed]!) {
    if (ruined.size >= strings) break;
    visit(block);
  }
}

/** Take `length` stops in a row, the block's among them, out of the slot. */
function cutString(problem: Problem, state: State, slot: number, block: number, length: number, random: Random): void {
  const from = slot * maxStops;
  const count = state.count[slot]!;
  const stops = Array.from(state.sequence.subarray(from, from + count));
  const at = stops.indexOf(block);
  const lowest = Math.max(0, at - length + 1);
  const highest = Math.min(at, count - length);
  const first = lowest + pickIndex(random, highest - lowest + 1);
  const kept = stops.filter((_, i) => i < first || i >= first + length);
  clearStops(problem, state, slot);
  if (kept.length === 0) return;
  for (let i = 0; i < kept.length; i++) state.sequence[from + i] = kept[i]!;
  state.count[slot] = kept.length;
  // Fewer stops nearly always run. They may not where a road matrix makes the way round shorter, or where charging or the crew's other days now bind: then the day is emptied.
  loadStops(state, slot, run);
  if (!runDay(problem, state, slot, state.kit[slot]!, run)) {
    state.count[slot] = 0;
    return;
  }
  keepRun(state, slot, run);
  for (const stop of kept) {
    state.slotOf[stop] = slot;
    const order = problem.blocks[stop]!.order;
    state.plannedOfOrder[order] = state.plannedOfOrder[order]! + 1;
  }
}
