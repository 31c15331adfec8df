import { type Insertions, insertAt, insertionCents, promisedCents } from "./insertion.ts";
import { pickIndex, type Random, shuffle } from "./random.ts";
import { clearStops } from "./removal.ts";
import type { State } from "./routes.ts";
import { keepSlot, type Shelf } from "./shelf.ts";

/** Share of slots passed over at random, so that greedy insertion does not repeat itself (Christiaens & Vanden Berghe 2020, sec. 5.3, who pass over places). */
const blinkShare = 0.01;

interface Ordering {
  readonly weight: number;
  readonly key: "size" | "farKm" | "openMin" | "firstMin" | "lastMin" | null;
  readonly sign: 1 | -1;
}

/** Ways of ordering the blocks to be put back, each drawn with its weight; after the same paper's for time windows. Without a key: at random. */
const orderings: readonly Ordering[] = [
  { weight: 4, key: null, sign: 1 },
  { weight: 4, key: "size", sign: -1 },
  { weight: 2, key: "farKm", sign: -1 },
  { weight: 1, key: "farKm", sign: 1 },
  { weight: 2, key: "openMin", sign: 1 },
  { weight: 2, key: "firstMin", sign: 1 },
  { weight: 2, key: "lastMin", sign: -1 },
];
const allWeights = orderings.reduce((sum, { weight }) => sum + weight, 0);

function drawOrdering(random: Random): Ordering {
  let draw = random() * allWeights;
  for (const ordering of orderings) {
    draw -= ordering.weight;
    if (draw < 0) return ordering;
  }
  return orderings[0]!;
}

function sortForInsertion({ routes }: State, blocks: number[], random: Random, keys: Float64Array): void {
  shuffle(blocks, random);
  const { key, sign } = drawOrdering(random);
  if (key === null) return;
  const values = routes[key];
  for (const block of blocks) keys[block] = sign * values[block]!;
  sortByKey(blocks, keys);
}

/** Insertion sort: lists are short and often nearly in order. */
function sortByKey(blocks: number[], keys: Float64Array): void {
  if (blocks.length > 40) {
    blocks.sort((a, b) => keys[a]! - keys[b]!);
    return;
  }
  for (let i = 1; i < blocks.length; i++) {
    const block = blocks[i]!;
    const key = keys[block]!;
    let at = i;
    while (at > 0 && keys[blocks[at - 1]!]! > key) {
      blocks[at] = blocks[at - 1]!;
      at--;
    }
    blocks[at] = block;
  }
}

export interface Recreation {
  readonly insertions: Insertions;
  readonly keys: Float64Array;
  /** Stamps of slots that were looked at for the block at hand. */
  readonly seen: Int32Array;
  stamp: number;
  readonly candidates: number[];
  untilBlink: number;
  /** Blocks go in where they cost less than so many times what they are worth. */
  mostPerValue: number;
}

/**
 * Put blocks back where they cost least, as long as that is less than they are worth by `mostPerValue`, in slots with stops or in those of `empty`, which have outfits. Every slot is kept on
 * the shelf before it is changed. Blocks for which no place pays stay out and come back in `left`. False, and given up on the way, once it costs more than `mostCents`
 * whatever the rest would bring, as long as roads make no way round shorter.
 */
export function recreate(
  state: State,
  recreation: Recreation,
  blocks: number[],
  empty: number[],
  random: Random,
  shelf: Shelf,
  left: number[],
  mostCents: number,
): boolean {
  sortForInsertion(state, blocks, random, recreation.keys);
  const { lockedCents } = state.routes;
  // What is locked has one slot to go to, and must.
  if (lockedCents !== undefined) blocks.sort((a, b) => lockedCents[b]! - lockedCents[a]!);
  const { insertions } = recreation;
  const { valueCents } = state.routes;
  let openCents = 0;
  for (const block of blocks) openCents += valueCents[block]!;
  for (const block of blocks) {
    if (state.slotsCents + state.unservedCents - openCents > mostCents) return false;
    openCents -= valueCents[block]!;
    let isIn = false;
    for (let attempt = 0; attempt < 3 && !isIn; attempt++) {
      const slot = cheapestSlot(state, recreation, block, empty, random);
      if (slot < 0) break;
      keepSlot(state, shelf, slot);
      const at = block * state.routes.slotCount + slot;
      const opens = state.count[slot] === 0;
      isIn = insertAt(state, insertions.run, slot, block, insertions.place[at]!);
      if (isIn && opens) addTwin(state, slot, empty);
      // Another crew's work on the field, or the crew's own other days, moved since this place was worked out.
      if (!isIn) insertions.version[at] = -1;
    }
    if (!isIn) left.push(block);
  }
  return true;
}

/** Another empty slot like the one that was opened. */
function addTwin({ routes, count, outfit }: State, slot: number, empty: number[]): void {
  const twins = routes.twins[routes.twin[slot]!]!;
  for (let i = 0; i < twins.length; i++) {
    const other = twins[i]!;
    if (count[other] !== 0 || empty.includes(other)) continue;
    if (outfit[other] !== null) empty.push(other);
    return;
  }
}

/** True for a share of the calls: how many until the next is drawn, which spares a draw for each. */
function blinks(recreation: Recreation, random: Random): boolean {
  if (recreation.untilBlink-- > 0) return false;
  recreation.untilBlink = Math.floor(Math.log(random()) / Math.log(1 - blinkShare));
  return true;
}

/** The slot in which the block costs least, and no more than it may; -1 when there is none. Rules are asked only where the slots' chains promise to be the best. */
function cheapestSlot(
  state: State,
  recreation: Recreation,
  block: number,
  empty: readonly number[],
  random: Random,
): number {
  const { routes, slotOf } = state;
  const { slotCount, neighbours } = routes;
  const { insertions, seen, candidates } = recreation;
  candidates.length = 0;
  const most = routes.valueCents[block]! * recreation.mostPerValue;
  const stamp = ++recreation.stamp;
  const near = neighbours[block]!;
  let unseen = state.busy;
  for (let i = 0; i < near.length && unseen > 0; i++) {
    const slot = slotOf[near[i]!]!;
    if (slot < 0 || seen[slot] === stamp) continue;
    seen[slot] = stamp;
    unseen--;
    addCandidate(state, recreation, block, slot, most, random);
  }
  if (candidates.length === 0 && unseen > 0) {
    for (let slot = 0; slot < slotCount; slot++) {
      if (state.count[slot]! > 0 && seen[slot] !== stamp) addCandidate(state, recreation, block, slot, most, random);
    }
  }
  for (let i = 0; i < empty.length; i++) {
    const slot = empty[i]!;
    if (state.count[slot] === 0 && state.outfit[slot] !== null)
      addCandidate(state, recreation, block, slot, most, random);
  }
  return surelyCheapest(state, insertions, block, candidates, most);
}

function addCandidate(
  state: State,
  recreation: Recreation,
  block: number,
  slot: number,
  mostCents: number,
  random: Random,
): void {
  const { could, slotCount } = state.routes;
  if (could[block * slotCount + slot] === 0 || blinks(recreation, random)) return;
  if (promisedCents(state, recreation.insertions, block, slot) < mostCents) recreation.candidates.push(slot);
}

function surelyCheapest(
  state: State,
  insertions: Insertions,
  block: number,
  candidates: readonly number[],
  most: number,
): number {
  const row = block * state.routes.slotCount;
  for (;;) {
    let best = -1;
    let bestCents = most;
    for (let i = 0; i < candidates.length; i++) {
      const slot = candidates[i]!;
      const cents = insertions.cents[row + slot]!;
      if (cents >= bestCents) continue;
      bestCents = cents;
      best = slot;
    }
    if (best < 0 || insertions.isSure[row + best] === 1) return best;
    insertionCents(state, insertions, block, best);
  }
}

/**
 * Open an empty slot with a block and those near it, though the first alone may not pay for going out: kept if together they do, or if the plan then still costs less than
 * `mostCents`, else the slot is left empty. With `growing` those near the ones put in are tried too. Without this optional stops far from all others would never be reached.
 */
export function openWith(
  state: State,
  recreation: Recreation,
  slot: number,
  first: number,
  shelf: Shelf,
  growing: boolean,
  mostCents: number,
): void {
  const { routes } = state;
  const { insertions } = recreation;
  if (routes.could[first * routes.slotCount + slot] === 0) return;
  if (insertionCents(state, insertions, first, slot) === Number.POSITIVE_INFINITY) return;
  keepSlot(state, shelf, slot);
  const before = state.unservedCents + state.slotsCents;
  putIfBelow(state, insertions, slot, first, Number.POSITIVE_INFINITY);
  const middles = [first];
  for (let i = 0; i < middles.length; i++) {
    for (const block of routes.neighbours[middles[i]!]!) {
      if (state.slotOf[block]! >= 0 || routes.could[block * routes.slotCount + slot] === 0) continue;
      putIfBelow(state, insertions, slot, block, routes.valueCents[block]!);
      if (growing && state.slotOf[block] === slot) middles.push(block);
    }
  }
  if (state.unservedCents + state.slotsCents >= Math.max(before, mostCents)) clearStops(state, slot);
}

function putIfBelow(state: State, insertions: Insertions, slot: number, block: number, mostCents: number): void {
  const cents = insertionCents(state, insertions, block, slot);
  const place = insertions.place[block * state.routes.slotCount + slot]!;
  if (cents < mostCents) insertAt(state, insertions.run, slot, block, place);
}

/** One of the list, or -1. */
export function pickFrom(list: readonly number[], random: Random): number {
  return list.length === 0 ? -1 : list[pickIndex(random, list.length)]!;
}
