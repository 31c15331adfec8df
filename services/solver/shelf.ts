import type { State } from "./routes.ts";
import { createState } from "./state.ts";

/** Slots as they stood, to be put back. */
export interface Shelf {
  /** Arrays as in a state; those by block are of no use here, times lie by place beside `sequence`. */
  readonly kept: State;
  readonly startAt: Float64Array;
  readonly finishAt: Float64Array;
  /** Slots that were put on the shelf. */
  readonly slots: number[];
  readonly isKept: Uint8Array;
}

export function createShelf(state: State): Shelf {
  return {
    kept: createState({ ...state.routes, createRules: null }),
    startAt: new Float64Array(state.sequence.length),
    finishAt: new Float64Array(state.sequence.length),
    slots: [],
    isKept: new Uint8Array(state.routes.slotCount),
  };
}

/** Sums are those of the moment at which the shelf is cleared. */
export function clearShelf(state: State, shelf: Shelf): void {
  for (const slot of shelf.slots) shelf.isKept[slot] = 0;
  shelf.slots.length = 0;
  keepSums(state, shelf.kept);
}

function keepSums(from: State, to: State): void {
  to.unservedCents = from.unservedCents;
  to.slotsCents = from.slotsCents;
  to.planned = from.planned;
  to.busy = from.busy;
}

/** Keep a slot before it is changed; what was kept since the shelf was cleared stays. */
export function keepSlot(state: State, shelf: Shelf, slot: number): void {
  if (shelf.isKept[slot] === 1) return;
  shelf.isKept[slot] = 1;
  shelf.slots.push(slot);
  copySlot(state, shelf, slot);
}

/** Bring a shelf that stands for a whole state up to date. */
export function copySlots(state: State, shelf: Shelf, slots: readonly number[]): void {
  for (const slot of slots) copySlot(state, shelf, slot);
  keepSums(state, shelf.kept);
}

function copySlot(state: State, shelf: Shelf, slot: number): void {
  const { stride, hoursCount } = state.routes;
  const { kept, startAt, finishAt } = shelf;
  const held = slot * stride;
  const count = state.count[slot]!;
  for (let i = held; i < held + count; i++) {
    const block = state.sequence[i]!;
    kept.sequence[i] = block;
    startAt[i] = state.startMin[block]!;
    finishAt[i] = state.endMin[block]!;
  }
  copyChain(state, kept, held, count, hoursCount);
  copyNumbers(state, kept, slot);
  kept.outfit[slot] = state.outfit[slot]!;
}

function copyChain(from: State, to: State, held: number, count: number, hoursCount: boolean): void {
  for (let i = held; i <= held + count; i++) {
    to.placeAt[i] = from.placeAt[i]!;
    to.wayKm[i] = from.wayKm[i]!;
    to.endAt[i] = from.endAt[i]!;
    to.latestAt[i] = from.latestAt[i]!;
  }
  if (!hoursCount) return;
  for (let i = held; i <= held + count; i++) {
    to.busyAt[i] = from.busyAt[i]!;
    to.leaveBy[i] = from.leaveBy[i]!;
    to.backFrom[i] = from.backFrom[i]!;
  }
}

function copyNumbers(from: State, to: State, slot: number): void {
  to.count[slot] = from.count[slot]!;
  to.startPlace[slot] = from.startPlace[slot]!;
  to.endPlace[slot] = from.endPlace[slot]!;
  to.version[slot] = from.version[slot]!;
  to.leaveMin[slot] = from.leaveMin[slot]!;
  to.backMin[slot] = from.backMin[slot]!;
  to.slotCents[slot] = from.slotCents[slot]!;
  to.slotLoad[slot] = from.slotLoad[slot]!;
}

/** Put slots back as the shelf has them. They must be all that were changed. */
export function putBack(state: State, shelf: Shelf, slots: readonly number[]): void {
  const { stride, hoursCount } = state.routes;
  const { pool } = state;
  const { kept, startAt, finishAt } = shelf;
  for (const slot of slots) {
    const held = slot * stride;
    for (let i = held; i < held + state.count[slot]!; i++) {
      const block = state.sequence[i]!;
      if (state.slotOf[block] === slot) state.slotOf[block] = -1;
    }
    const outfit = state.outfit[slot]!;
    if (outfit !== null && outfit !== kept.outfit[slot]) pool.book(slot, outfit, 0);
  }
  for (const slot of slots) {
    const held = slot * stride;
    const outfit = kept.outfit[slot]!;
    if (outfit !== null && outfit !== state.outfit[slot]) pool.book(slot, outfit, 1);
    state.outfit[slot] = outfit;
    copyNumbers(kept, state, slot);
    const count = state.count[slot]!;
    for (let i = held; i < held + count; i++) {
      const block = kept.sequence[i]!;
      state.sequence[i] = block;
      state.startMin[block] = startAt[i]!;
      state.endMin[block] = finishAt[i]!;
      state.slotOf[block] = slot;
    }
    copyChain(kept, state, held, count, hoursCount);
  }
  keepSums(kept, state);
}
