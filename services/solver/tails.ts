import { plainChain } from "./plain.ts";
import { pickIndex, type Random } from "./random.ts";
import type { Plain, State } from "./routes.ts";
import { keepSlot, type Shelf } from "./shelf.ts";
import { setSlotCents } from "./slotCents.ts";
import { openChain, touch } from "./state.ts";

/** How often what follows a stop goes to an empty slot instead: a route more. Our choice. */
const splitShare = 0.1;

/**
 * Let two slots exchange what they do after a stop (2-opt*, Potvin & Rousseau 1995, "An Exchange Heuristic for Routeing Problems with Time Windows"): the block goes on
 * to one of those near it, and the slot that went there to what came after the block. The first that costs less than so much more is taken. True when one was; else
 * slots on the shelf are to be put back.
 */
export function exchangeTails(
  state: State,
  plain: Plain,
  block: number,
  moreCents: number,
  random: Random,
  shelf: Shelf,
): boolean {
  const { routes, slotOf } = state;
  const slot = slotOf[block]!;
  if (slot < 0) return false;
  const at = placeIn(state, slot, block);
  if (random() < splitShare) {
    const empty = emptyTwin(state, slot);
    return (
      empty >= 0 &&
      tailsCents(state, plain, slot, at, empty, 0) < moreCents &&
      swap(state, plain, slot, at, empty, 0, shelf)
    );
  }
  const near = routes.neighbours[block]!;
  const first = pickIndex(random, near.length);
  for (let i = 0; i < near.length; i++) {
    const next = near[(first + i) % near.length]!;
    const other = slotOf[next]!;
    if (other < 0 || other === slot) continue;
    const from = placeIn(state, other, next);
    if (tailsCents(state, plain, slot, at, other, from) >= moreCents) continue;
    if (!mayCarry(state, slot, at, other, from)) continue;
    return swap(state, plain, slot, at, other, from, shelf);
  }
  return false;
}

function placeIn({ routes, sequence }: State, slot: number, block: number): number {
  const held = slot * routes.stride;
  let at = 0;
  while (sequence[held + at] !== block) at++;
  return at;
}

function emptyTwin({ routes, count }: State, slot: number): number {
  for (const other of routes.twins[routes.twin[slot]!]!) if (count[other] === 0) return other;
  return -1;
}

/**
 * What it adds to the cost that `slot` goes on after its stop `at` as `other` does from its stop `from` on, and the other way round; infinite where that is too late
 * or slots do not cost alike.
 */
export function tailsCents(
  state: State,
  { way }: Plain,
  slot: number,
  at: number,
  other: number,
  from: number,
): number {
  const { routes, placeAt, wayKm, endAt, latestAt, count } = state;
  const { stride, placeCount, startPlace, endPlace, toMin } = routes;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const otherProfile = routes.profiles[state.outfit[other]!.profile]!;
  if (profile.centsPerKm !== otherProfile.centsPerKm || profile.centsPerWorkMin !== otherProfile.centsPerWorkMin)
    return Number.POSITIVE_INFINITY;
  const on = slot * stride + at;
  const otherOn = other * stride + from;
  const stops = count[slot]!;
  const otherStops = count[other]!;
  const isLast = at === stops - 1;
  const isEmpty = otherStops === 0;
  const end = endPlace[slot]!;
  const otherEnd = endPlace[other]!;
  const hasSameEnd = end === otherEnd && toMin[slot] === toMin[other];

  const place = placeAt[on]!;
  const next = isEmpty ? end : placeAt[otherOn]!;
  let km = way[place * placeCount + next]! - wayKm[on + 1]!;
  const readyMin = endAt[on]! + way[place * placeCount + next]!;
  if (hasSameEnd && readyMin > (isEmpty ? toMin[slot]! : latestAt[otherOn]!)) return Number.POSITIVE_INFINITY;
  if (!isEmpty) {
    km -= wayKm[otherOn]!;
    if (end !== otherEnd)
      km += way[placeAt[other * stride + otherStops - 1]! * placeCount + end]! - wayKm[other * stride + otherStops]!;
  }
  let cents = 0;
  if (from === 0 && isLast) {
    if (!isEmpty) cents -= otherProfile.fixedCents;
  } else {
    const before = from === 0 ? startPlace[other]! : placeAt[otherOn - 1]!;
    const after = isLast ? otherEnd : placeAt[on + 1]!;
    const there = way[before * placeCount + after]!;
    km += there;
    const otherReady = (from === 0 ? routes.fromMin[other]! : endAt[otherOn - 1]!) + there;
    if (hasSameEnd && otherReady > (isLast ? toMin[other]! : latestAt[on + 1]!)) return Number.POSITIVE_INFINITY;
    if (!isLast && end !== otherEnd)
      km += way[placeAt[slot * stride + stops - 1]! * placeCount + otherEnd]! - wayKm[slot * stride + stops]!;
    if (isEmpty) cents += otherProfile.fixedCents;
  }
  return cents + km * profile.centsPerKm;
}

/** Whether both may do, and carry, what they would get. */
function mayCarry(state: State, slot: number, at: number, other: number, from: number): boolean {
  const { routes, sequence, count } = state;
  const { stride, slotCount, could, load } = routes;
  let mine = 0;
  for (let i = slot * stride + at + 1; i < slot * stride + count[slot]!; i++) {
    const block = sequence[i]!;
    if (could[block * slotCount + other] === 0) return false;
    mine += load[block]!;
  }
  let theirs = 0;
  for (let i = other * stride + from; i < other * stride + count[other]!; i++) {
    const block = sequence[i]!;
    if (could[block * slotCount + slot] === 0) return false;
    theirs += load[block]!;
  }
  const capacityOf = (one: number) => routes.profiles[state.outfit[one]!.profile]!.capacity;
  return (
    state.slotLoad[slot]! - mine + theirs <= capacityOf(slot) &&
    state.slotLoad[other]! - theirs + mine <= capacityOf(other)
  );
}

function swap(
  state: State,
  plain: Plain,
  slot: number,
  at: number,
  other: number,
  from: number,
  shelf: Shelf,
): boolean {
  const { routes, sequence, count } = state;
  const { stride } = routes;
  const held = slot * stride;
  const otherHeld = other * stride;
  const mine = sequence.slice(held + at + 1, held + count[slot]!);
  const theirs = sequence.slice(otherHeld + from, otherHeld + count[other]!);
  if (at + 1 + theirs.length + 1 > stride || from + mine.length + 1 > stride) return false;
  keepSlot(state, shelf, slot);
  keepSlot(state, shelf, other);
  return setTail(state, plain, slot, at + 1, theirs) && setTail(state, plain, other, from, mine);
}

function setTail(state: State, plain: Plain, slot: number, at: number, tail: Int32Array): boolean {
  const held = slot * state.routes.stride;
  const before = state.count[slot]!;
  const count = at + tail.length;
  state.sequence.set(tail, held + at);
  for (const block of tail) state.slotOf[block] = slot;
  state.count[slot] = count;
  if (before === 0 && count > 0) state.busy++;
  if (before > 0 && count === 0) state.busy--;
  if (count > 0) {
    if (!plainChain(state, plain, slot)) return false;
  } else {
    state.slotLoad[slot] = 0;
    openChain(state, slot);
    setSlotCents(state, slot, 0);
  }
  touch(state, slot);
  return true;
}
