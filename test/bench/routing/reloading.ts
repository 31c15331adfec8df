import type { DayRules, DayRun, State } from "../../../services/solver/routes.ts";
import { bestPlaces } from "./tripPlaces.ts";
import {
  backward,
  cheapest,
  createWays,
  forward,
  mostWays,
  type Tables,
  tablesOf,
  tripStarts,
  type Ways,
} from "./tripWays.ts";

/**
 * Rules of a vehicle that comes back to where it started to load again: its stops, in their order, are cut into trips that each hold their load and leave when all that
 * they take along is there. Of all ways to cut them the shortest counts, by dynamic programming over the stops after which it comes back.
 */
export interface Reloading extends DayRules {
  /** The stops of a slot by trip. */
  trips(slot: number): number[][];
}

/** `release` by block. */
export function createReloading(state: State, release: Float64Array): Reloading {
  const { routes } = state;
  const tables = tablesOf(routes);
  const { stride } = routes;
  // What is known of a slot's stops as they stand: ways to have done those before a stop, and to do those from it on.
  const done = Array.from({ length: routes.slotCount }, () => createWays(stride));
  const toDo = Array.from({ length: routes.slotCount }, () => createWays(stride));
  const knownFor = new Int32Array(routes.slotCount).fill(-1);
  const sequence = new Int32Array(stride);
  const own = createWays(stride);

  const load = (slot: number, block: number, at: number): number => {
    const count = state.count[slot]!;
    const held = slot * stride;
    if (block < 0) {
      for (let i = 0; i < count; i++) sequence[i] = state.sequence[held + i]!;
      return count;
    }
    for (let i = 0; i < at; i++) sequence[i] = state.sequence[held + i]!;
    sequence[at] = block;
    for (let i = at; i < count; i++) sequence[i + 1] = state.sequence[held + i]!;
    return count + 1;
  };

  const know = (slot: number): void => {
    if (knownFor[slot] === state.version[slot]) return;
    knownFor[slot] = state.version[slot]!;
    const count = load(slot, -1, 0);
    forward(tables, release, slot, sequence, count, done[slot]!);
    backward(tables, release, slot, sequence, count, toDo[slot]!);
  };

  return {
    run: (slot, block, at, run) => {
      const count = load(slot, block, at);
      forward(tables, release, slot, sequence, count, own);
      return schedule(tables, release, slot, sequence, count, own, run, state);
    },
    promise: (slot, block, promised) => {
      know(slot);
      const count = load(slot, -1, 0);
      return bestPlaces(tables, release, state, slot, block, sequence, count, done[slot]!, toDo[slot]!, promised);
    },
    trips: (slot) => {
      const count = load(slot, -1, 0);
      forward(tables, release, slot, sequence, count, own);
      return tripStarts(own, count).map((from, trip, starts) =>
        Array.from(sequence.slice(from, starts[trip + 1] ?? count)),
      );
    },
  };
}

function schedule(
  tables: Tables,
  release: Float64Array,
  slot: number,
  sequence: Int32Array,
  count: number,
  ways: Ways,
  run: DayRun,
  { outfit }: State,
): boolean {
  if (ways.count[count] === 0) return false;
  const { routes, place, minutes, fromMin } = tables;
  const { travelMin: way, placeCount } = routes;
  const profile = routes.profiles[outfit[slot]!.profile]!;
  const base = routes.startPlace[slot]!;
  run.cents = profile.fixedCents + ways.km[count * mostWays + cheapest(ways, count)]! * profile.centsPerKm;
  run.count = count;
  let timeMin = routes.fromMin[slot]!;
  const starts = tripStarts(ways, count);
  starts.forEach((first, trip) => {
    const end = starts[trip + 1] ?? count;
    for (let i = first; i < end; i++) timeMin = Math.max(timeMin, release[sequence[i]!]!);
    if (trip === 0) run.leaveMin = timeMin;
    let from = base;
    for (let i = first; i < end; i++) {
      const block = sequence[i]!;
      const to = place[block]!;
      run.stops[i] = block;
      run.ready[i] = timeMin + way[from * placeCount + to]!;
      run.starts[i] = Math.max(run.ready[i]!, fromMin[block]!);
      timeMin = run.starts[i]! + minutes[block]!;
      run.ends[i] = timeMin;
      run.earliest[i] = timeMin;
      from = to;
    }
    timeMin += way[from * placeCount + base]!;
  });
  run.backMin = timeMin;
  return true;
}
