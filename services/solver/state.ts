import type { Kit, Problem } from "./problem.ts";

/** Most stops in one crew-day: our choice, so that the arrays have one stride; a day of ten minutes each would not hold more. */
export const maxStops = 48;

/**
 * Where the search stands. Stops of slot k are sequence[k * maxStops ...], their number count[k]. A slot's version changes whenever its stops,
 * times or kit do, and comes back when they are put back, so that what was worked out for a version stays true.
 */
export interface State {
  readonly sequence: Int32Array;
  readonly count: Int32Array;
  readonly kit: (Kit | null)[];
  readonly version: Int32Array;
  readonly leaveMin: Int32Array;
  readonly backMin: Int32Array;
  /** Cost of the slot's driving, labour, overtime, running and lateness, cents. */
  readonly slotCents: Float64Array;
  /** slotOf[block] is -1 while the block is not planned. */
  readonly slotOf: Int32Array;
  readonly startMin: Int32Array;
  readonly endMin: Int32Array;
  /** Planned blocks of each order. */
  readonly plannedOfOrder: Int32Array;
  readonly usedAircraft: Uint8Array;
  readonly usedTender: Uint8Array;
  readonly usedCharger: Uint8Array;
  /** usedSets[(day * bases + base) * types + type] */
  readonly usedSets: Int32Array;
  nextVersion: number;
}

export function createState(problem: Problem): State {
  const slots = problem.slots.length;
  const blocks = problem.blocks.length;
  const days = problem.calendar.dates.length;
  const { fleet, settings } = problem.operation;
  return {
    sequence: new Int32Array(slots * maxStops),
    count: new Int32Array(slots),
    kit: new Array<Kit | null>(slots).fill(null),
    version: new Int32Array(slots),
    leaveMin: new Int32Array(slots),
    backMin: new Int32Array(slots),
    slotCents: new Float64Array(slots),
    slotOf: new Int32Array(blocks).fill(-1),
    startMin: new Int32Array(blocks),
    endMin: new Int32Array(blocks),
    plannedOfOrder: new Int32Array(problem.orders.length),
    usedAircraft: new Uint8Array(days * fleet.aircraft.length),
    usedTender: new Uint8Array(days * fleet.tenders.length),
    usedCharger: new Uint8Array(days * fleet.chargers.length),
    usedSets: new Int32Array(days * settings.bases.length * problem.types.length),
    nextVersion: 1,
  };
}

/** Everything that belongs to one slot, kept so that it can be put back. */
export interface SlotCopy {
  readonly slot: number;
  readonly stops: Int32Array;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  readonly kit: Kit | null;
  readonly version: number;
  readonly leaveMin: number;
  readonly backMin: number;
  readonly slotCents: number;
}

export function copySlot(state: State, slot: number): SlotCopy {
  const from = slot * maxStops;
  const stops = state.sequence.slice(from, from + state.count[slot]!);
  return {
    slot,
    stops,
    starts: stops.map((block) => state.startMin[block]!),
    ends: stops.map((block) => state.endMin[block]!),
    kit: state.kit[slot]!,
    version: state.version[slot]!,
    leaveMin: state.leaveMin[slot]!,
    backMin: state.backMin[slot]!,
    slotCents: state.slotCents[slot]!,
  };
}

/** Put slots back as they were. Call with every slot that was changed since the copies were made. */
export function restoreSlots(problem: Problem, state: State, copies: readonly SlotCopy[]): void {
  for (const copy of copies) {
    clearStops(problem, state, copy.slot);
    setKit(problem, state, copy.slot, null);
  }
  for (const copy of copies) {
    const { slot } = copy;
    setKit(problem, state, slot, copy.kit);
    for (let at = 0; at < copy.stops.length; at++) {
      const block = copy.stops[at]!;
      state.sequence[slot * maxStops + at] = block;
      state.startMin[block] = copy.starts[at]!;
      state.endMin[block] = copy.ends[at]!;
      state.slotOf[block] = slot;
      const order = problem.blocks[block]!.order;
      state.plannedOfOrder[order] = state.plannedOfOrder[order]! + 1;
    }
    state.count[slot] = copy.stops.length;
    state.leaveMin[slot] = copy.leaveMin;
    state.backMin[slot] = copy.backMin;
    state.slotCents[slot] = copy.slotCents;
    state.version[slot] = copy.version;
  }
}

/** Take all stops out of a slot; its kit stays. */
export function clearStops(problem: Problem, state: State, slot: number): void {
  for (let at = 0; at < state.count[slot]!; at++) {
    const block = state.sequence[slot * maxStops + at]!;
    state.slotOf[block] = -1;
    const order = problem.blocks[block]!.order;
    state.plannedOfOrder[order] = state.plannedOfOrder[order]! - 1;
  }
  state.count[slot] = 0;
  state.slotCents[slot] = 0;
  touch(state, slot);
}

export function touch(state: State, slot: number): void {
  state.version[slot] = state.nextVersion++;
}

/** Give a slot another kit (or none), taking its things out of the pools of every day they are away. */
export function setKit(problem: Problem, state: State, slot: number, kit: Kit | null): void {
  const before = state.kit[slot]!;
  if (before !== null) book(problem, state, slot, before, 0);
  state.kit[slot] = kit;
  if (kit !== null) book(problem, state, slot, kit, 1);
  touch(state, slot);
}

function book(problem: Problem, state: State, slot: number, kit: Kit, used: 0 | 1): void {
  const { fleet, settings } = problem.operation;
  const { days, crew } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  for (const day of days) {
    for (const aircraft of kit.aircraft) state.usedAircraft[day * fleet.aircraft.length + aircraft] = used;
    for (const charger of kit.chargers) state.usedCharger[day * fleet.chargers.length + charger] = used;
    state.usedTender[day * fleet.tenders.length + kit.tender] = used;
    const sets = (day * settings.bases.length + base) * problem.types.length + kit.option.type;
    state.usedSets[sets] = state.usedSets[sets]! + (used === 1 ? kit.sets : -kit.sets);
  }
}
