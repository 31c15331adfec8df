import { pickIndex, type Random } from "./random.ts";
import { clearStops, cut } from "./removal.ts";
import { keepSlot, type Shelf } from "./shelf.ts";
import type { DayRun, State } from "./state.ts";

/** Mean number of stops taken out, the longest string, and how strings are split (Christiaens & Vanden Berghe 2020, sec. 5.2, and their values). */
const meanRemoved = 10;
const longestString = 10;
const splitShare = 0.5;
const splitMoreShare = 0.01;

/** Take strings of stops near the seed block, or whole slots, out of the plan. Every slot is kept on the shelf before it is changed. */
export function ruin(
  state: State,
  seed: number,
  wholeShare: number,
  random: Random,
  shelf: Shelf,
  run: DayRun,
  removed: number[],
): void {
  if (random() < wholeShare) ruinWholeSlots(state, seed, random, shelf, removed);
  else ruinStrings(state, seed, random, shelf, run, removed);
}

/** Empty the seed's slot, or any, and in half of the cases one more of the same day, so that crews can change equipment. */
function ruinWholeSlots(state: State, seed: number, random: Random, shelf: Shelf, removed: number[]): void {
  const { dayOfSlot } = state.routes;
  const busy = busySlots(state);
  if (busy.length === 0) return;
  const first = state.slotOf[seed]! >= 0 ? state.slotOf[seed]! : busy[pickIndex(random, busy.length)]!;
  const chosen = [first];
  if (random() < 0.5) {
    const beside = busy.filter((slot) => slot !== first && dayOfSlot[slot] === dayOfSlot[first]);
    if (beside.length > 0) chosen.push(beside[pickIndex(random, beside.length)]!);
  }
  for (const slot of chosen) {
    keepSlot(state, shelf, slot);
    listStops(state, slot, 0, state.count[slot]!, removed);
    clearStops(state, slot);
  }
}

function busySlots({ routes, count }: State): number[] {
  const busy: number[] = [];
  for (let slot = 0; slot < routes.slotCount; slot++) if (count[slot]! > 0) busy.push(slot);
  return busy;
}

function listStops({ routes, sequence }: State, slot: number, from: number, to: number, list: number[]): void {
  for (let at = from; at < to; at++) list.push(sequence[slot * routes.stride + at]!);
}

function ruinStrings(state: State, seed: number, random: Random, shelf: Shelf, run: DayRun, removed: number[]): void {
  if (state.busy === 0) return;
  const longest = Math.min(longestString, Math.max(1, state.planned / state.busy));
  const mostStrings = (4 * meanRemoved) / (1 + longest) - 1;
  let strings = Math.floor(random() * mostStrings + 1);
  const cutAt = (block: number) => {
    const slot = state.slotOf[block]!;
    // A slot that was already cut is on the shelf.
    if (slot < 0 || shelf.isKept[slot] === 1) return;
    keepSlot(state, shelf, slot);
    cutString(state, slot, block, longest, random, run, removed);
    strings--;
  };
  cutAt(seed);
  const near = state.routes.neighbours[seed]!;
  for (let i = 0; i < near.length && strings > 0; i++) cutAt(near[i]!);
}

/** Take stops in a row, the block's among them, out of the slot, in half of the cases with some in their middle left in. */
function cutString(
  state: State,
  slot: number,
  block: number,
  longest: number,
  random: Random,
  run: DayRun,
  removed: number[],
): void {
  const held = slot * state.routes.stride;
  const count = state.count[slot]!;
  const length = Math.floor(random() * Math.min(longest, count) + 1);
  let kept = 0;
  if (length > 1 && length < count && random() < splitShare) {
    kept = 1;
    while (length + kept < count && random() < splitMoreShare) kept++;
  }
  const span = length + kept;
  let at = 0;
  while (state.sequence[held + at] !== block) at++;
  const lowest = Math.max(0, at - span + 1);
  const highest = Math.min(at, count - span);
  const first = lowest + pickIndex(random, highest - lowest + 1);
  const keptFirst = kept === 0 ? first : first + 1 + pickIndex(random, span - kept - 1);
  listStops(state, slot, first, keptFirst, removed);
  listStops(state, slot, keptFirst + kept, first + span, removed);
  cut(state, run, slot, first, span, keptFirst, kept);
}
