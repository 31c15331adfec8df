import type { DayRules, Outfit, OutfitPool, RouteProblem } from "./routes.ts";

/** What running a slot's day through gives; starts and ends are by place in the sequence. */
export interface DayRun {
  cents: number;
  leaveMin: number;
  backMin: number;
  readonly stops: Int32Array;
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  /** When the crew is ready for each stop, before it waits. */
  readonly ready: Float64Array;
  /** Ends when the crew leaves as early as it may; times that are kept may be later, for a shorter day. */
  readonly earliest: Float64Array;
  count: number;
}

export function createDayRun(stride: number): DayRun {
  return {
    cents: 0,
    leaveMin: 0,
    backMin: 0,
    stops: new Int32Array(stride),
    starts: new Float64Array(stride),
    ends: new Float64Array(stride),
    ready: new Float64Array(stride),
    earliest: new Float64Array(stride),
    count: 0,
  };
}

/**
 * Where the search stands. Stops of slot k are sequence[k * stride ...], their number count[k]; arrays of stops lie alike, those with one more element than
 * stops tell of the way home in it. A slot's version changes whenever its stops, times or outfit do, and comes back when they are put back, so that what was
 * worked out for a version stays true.
 */
export interface State {
  readonly routes: RouteProblem;
  readonly pool: OutfitPool;
  readonly rules: DayRules | null;
  readonly sequence: Int32Array;
  readonly count: Int32Array;
  readonly outfit: (Outfit | null)[];
  readonly version: Int32Array;
  readonly leaveMin: Float64Array;
  readonly backMin: Float64Array;
  /** Cost of the slot's driving, labour, overtime, running and lateness, cents. */
  readonly slotCents: Float64Array;
  readonly slotLoad: Float64Array;
  /** slotOf[block] is -1 while the block is not planned. */
  readonly slotOf: Int32Array;
  readonly startMin: Float64Array;
  readonly endMin: Float64Array;
  /** Place of each stop. */
  readonly placeAt: Int32Array;
  /** Road to each stop from the one before; one more for the way home. */
  readonly wayKm: Float64Array;
  /** Earliest end of each stop. */
  readonly endAt: Float64Array;
  /** Latest minute at which the crew may be ready for a stop; one more for being back. */
  readonly latestAt: Float64Array;
  /** Minutes at work and on the road until ready for a stop, waits left out; one more for being back. */
  readonly busyAt: Float64Array;
  /** Latest leaving that the stops up to this one allow without being late for their windows. */
  readonly leaveBy: Float64Array;
  /** Earliest minute back that windows from this stop on allow. */
  readonly backFrom: Float64Array;
  /** Sum of the values of unplanned blocks, and of the slots' cost. */
  unservedCents: number;
  slotsCents: number;
  planned: number;
  busy: number;
  nextVersion: number;
}

export function createState(routes: RouteProblem): State {
  const { blockCount, slotCount, stride } = routes;
  const stops = slotCount * stride;
  const state: Mutable = {
    routes,
    pool: noPool,
    rules: null,
    sequence: new Int32Array(stops),
    count: new Int32Array(slotCount),
    outfit: new Array<Outfit | null>(slotCount).fill(null),
    version: new Int32Array(slotCount),
    leaveMin: new Float64Array(slotCount),
    backMin: new Float64Array(slotCount),
    slotCents: new Float64Array(slotCount),
    slotLoad: new Float64Array(slotCount),
    slotOf: new Int32Array(blockCount).fill(-1),
    startMin: new Float64Array(blockCount),
    endMin: new Float64Array(blockCount),
    placeAt: new Int32Array(stops),
    wayKm: new Float64Array(stops),
    endAt: new Float64Array(stops),
    latestAt: new Float64Array(stops),
    busyAt: new Float64Array(stops),
    leaveBy: new Float64Array(stops),
    backFrom: new Float64Array(stops),
    unservedCents: routes.valueCents.reduce((sum, cents) => sum + cents, 0),
    slotsCents: 0,
    planned: 0,
    busy: 0,
    nextVersion: 1,
  };
  for (let slot = 0; slot < slotCount; slot++) openChain(state, slot);
  state.pool = routes.createPool(state);
  state.rules = routes.createRules?.(state) ?? null;
  return state;
}

/** Pool and rules look at the state that they belong to, so they come after it. */
type Mutable = { -readonly [Key in keyof State]: State[Key] };
const noPool: OutfitPool = {
  propose: () => null,
  remake: () => null,
  transfer: () => null,
  book: () => {},
  changeCents: () => 0,
};

/** Chains of a slot without stops. */
export function openChain(state: State, slot: number): void {
  const { stride, toMin } = state.routes;
  state.latestAt[slot * stride] = toMin[slot]!;
  state.backFrom[slot * stride] = Number.NEGATIVE_INFINITY;
  state.busyAt[slot * stride] = 0;
  state.wayKm[slot * stride] = 0;
}

export function touch(state: State, slot: number): void {
  state.version[slot] = state.nextVersion++;
}

/** Give a slot another outfit (or none), booking its things in the pools. */
export function setOutfit(state: State, slot: number, outfit: Outfit | null): void {
  const before = state.outfit[slot]!;
  if (before === outfit) return;
  const { pool } = state;
  if (before !== null) pool.book(slot, before, 0);
  state.outfit[slot] = outfit;
  if (outfit !== null) pool.book(slot, outfit, 1);
  touch(state, slot);
}

export function totalCents(state: State): number {
  return state.unservedCents + state.slotsCents + state.pool.changeCents();
}
