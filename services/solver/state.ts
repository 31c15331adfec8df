import { plainOf } from "./plain.ts";
import type { DayRun, Outfit, OutfitPool, RouteProblem, State } from "./routes.ts";

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

export function createState(routes: RouteProblem): State {
  const { blockCount, slotCount, stride } = routes;
  const stops = slotCount * stride;
  const state: Mutable = {
    routes,
    pool: noPool,
    rules: null,
    plain: plainOf(routes),
    sequence: new Int32Array(stops),
    count: new Int32Array(slotCount),
    outfit: new Array<Outfit | null>(slotCount).fill(null),
    startPlace: routes.startPlace.slice(),
    endPlace: routes.endPlace.slice(),
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
  claims: () => [],
  remake: () => null,
  transfer: () => null,
  isSame: (one, other) => one === other,
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
