import { insertAt, mayAppend } from "./insertion.ts";
import { pickIndex, type Random } from "./random.ts";
import { clearStops, cut } from "./removal.ts";
import type { DayRun, Outfit, State } from "./routes.ts";
import { keepSlot, type Shelf } from "./shelf.ts";
import { setOutfit } from "./state.ts";

/** Mean number of stops taken out, the longest string, and how strings are split (Christiaens & Vanden Berghe 2020, sec. 5.2, and their values). */
const meanRemoved = 10;
const longestString = 10;
const splitShare = 0.5;
const splitMoreShare = 0.01;

/** How often what is done; strings otherwise. */
export interface RuinShares {
  /** Empty whole slots. */
  readonly wholeShare: number;
  /** Give a slot another outfit, or exchange what two slots do. */
  readonly exchangeShare: number;
}

/** Take strings of stops near the seed block, or whole slots, out of the plan, or exchange outfits. Every slot is kept on the shelf before it is changed. */
export function ruin(
  state: State,
  seed: number,
  { wholeShare, exchangeShare }: RuinShares,
  random: Random,
  shelf: Shelf,
  run: DayRun,
  removed: number[],
): void {
  const draw = random();
  if (draw < wholeShare) ruinWholeSlots(state, seed, random, shelf, removed);
  else if (draw < wholeShare + exchangeShare) exchange(state, seed, random, shelf, run, removed);
  else ruinStrings(state, seed, random, shelf, run, removed);
}

/** Empty the seed's slot, or any, and in half of the cases one more, of the same day, so that crews can change equipment, or of any. */
function ruinWholeSlots(state: State, seed: number, random: Random, shelf: Shelf, removed: number[]): void {
  const { dayOfSlot } = state.routes;
  const busy = busySlots(state);
  if (busy.length === 0) return;
  const first = state.slotOf[seed]! >= 0 ? state.slotOf[seed]! : busy[pickIndex(random, busy.length)]!;
  const chosen = [first];
  if (random() < 0.5) {
    const sameDay = random() < 0.5;
    const others = busy.filter((slot) => slot !== first && (!sameDay || dayOfSlot[slot] === dayOfSlot[first]));
    if (others.length > 0) chosen.push(others[pickIndex(random, others.length)]!);
  }
  for (const slot of chosen) {
    keepSlot(state, shelf, slot);
    listStops(state, slot, 0, state.count[slot]!, removed);
    clearStops(state, slot);
  }
}

/** Shares of exchanges that give one slot another outfit and leave it its stops, and that let two crews exchange tenders. Our choice. */
const refitShare = 0.35;
const tenderShare = 0.35;

/** Give the seed's slot, or any, another outfit; or exchange tenders with another crew; or exchange stops and outfit with another slot. Stops that do not run there are taken out. */
function exchange(state: State, seed: number, random: Random, shelf: Shelf, run: DayRun, removed: number[]): void {
  const busy = busySlots(state);
  if (busy.length === 0) return;
  const one = state.slotOf[seed]! >= 0 ? state.slotOf[seed]! : busy[pickIndex(random, busy.length)]!;
  const draw = random();
  if (draw < refitShare) {
    const [stops] = takeAll(state, one, shelf);
    setOutfit(state, one, state.pool.propose(one, random));
    append(state, one, stops, run, removed);
  } else if (draw < refitShare + tenderShare) {
    exchangeTenders(state, one, busy, random, shelf, run, removed);
  } else {
    exchangeDays(state, one, random, shelf, run, removed);
  }
}

/** With another slot of the day, and in half of the cases on all days on which both crews are out. */
function exchangeTenders(
  state: State,
  slot: number,
  busy: readonly number[],
  random: Random,
  shelf: Shelf,
  run: DayRun,
  removed: number[],
): void {
  const { crewOfSlot, dayOfSlot } = state.routes;
  const beside = busy.filter((other) => other !== slot && dayOfSlot[other] === dayOfSlot[slot]);
  if (beside.length === 0) return;
  const other = beside[pickIndex(random, beside.length)]!;
  const pairs: [number, number][] = [[slot, other]];
  if (random() < 0.5) {
    for (const one of busy) {
      if (one === slot || crewOfSlot[one] !== crewOfSlot[slot]) continue;
      const two = busy.find((b) => crewOfSlot[b] === crewOfSlot[other] && dayOfSlot[b] === dayOfSlot[one]);
      if (two !== undefined) pairs.push([one, two]);
    }
  }
  for (const [one, two] of pairs) {
    const [stops, outfit] = takeAll(state, one, shelf);
    const [otherStops, otherOutfit] = takeAll(state, two, shelf);
    setOutfit(state, one, state.pool.remake(one, outfit!, otherOutfit!));
    setOutfit(state, two, state.pool.remake(two, otherOutfit!, outfit!));
    append(state, one, stops, run, removed);
    append(state, two, otherStops, run, removed);
  }
}

function exchangeDays(state: State, one: number, random: Random, shelf: Shelf, run: DayRun, removed: number[]): void {
  const { pool, routes } = state;
  if (routes.slotCount < 2) return;
  const draw = pickIndex(random, routes.slotCount - 1);
  const other = draw < one ? draw : draw + 1;
  const [stops, outfit] = takeAll(state, one, shelf);
  const [otherStops, otherOutfit] = takeAll(state, other, shelf);
  setOutfit(state, other, pool.transfer(other, outfit!) ?? pool.propose(other, random));
  append(state, other, stops, run, removed);
  setOutfit(state, one, (otherOutfit && pool.transfer(one, otherOutfit)) ?? pool.propose(one, random));
  append(state, one, otherStops, run, removed);
}

/** Take stops and outfit from a slot. */
export function takeAll(state: State, slot: number, shelf: Shelf): [number[], Outfit | null] {
  keepSlot(state, shelf, slot);
  const stops: number[] = [];
  listStops(state, slot, 0, state.count[slot]!, stops);
  clearStops(state, slot);
  const outfit = state.outfit[slot]!;
  setOutfit(state, slot, null);
  return [stops, outfit];
}

/** Put stops into an empty slot one after the other; those that do not run there are told. */
export function append(state: State, slot: number, stops: readonly number[], run: DayRun, removed: number[]): void {
  for (const block of stops) {
    const holds = state.outfit[slot] !== null && mayAppend(state, slot, block);
    if (!holds || !insertAt(state, run, slot, block, state.count[slot]!)) removed.push(block);
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
  const near = state.routes.neighbours[seed]!;
  for (let i = -1; i < near.length && strings > 0; i++) {
    const block = i < 0 ? seed : near[i]!;
    const slot = state.slotOf[block]!;
    // A slot that was already cut is on the shelf.
    if (slot < 0 || shelf.isKept[slot] === 1) continue;
    keepSlot(state, shelf, slot);
    cutString(state, slot, block, longest, random, run, removed);
    strings--;
  }
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
