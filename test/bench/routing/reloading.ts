import type { DayRules, DayRun, RouteProblem, State } from "../../../services/solver/routes.ts";
import { lastStartIn } from "../../../services/solver/windows.ts";

/** Ways to have done the first stops (or to do the last) that are kept: each is cheaper than all that leave more time. */
const mostWays = 6;

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

interface Tables {
  readonly routes: RouteProblem;
  readonly place: Int32Array;
  readonly minutes: Float64Array;
  readonly fromMin: Float64Array;
  readonly untilMin: Float64Array;
  readonly capacity: number;
}

/** All vehicles of such an instance are alike. */
function tablesOf(routes: RouteProblem): Tables {
  const [profile] = routes.profiles;
  const { place, minutes, capacity } = profile!;
  const blocks = Array.from({ length: routes.blockCount }, (_, block) => block);
  return {
    routes,
    place,
    minutes,
    fromMin: Float64Array.from(blocks, (block) => routes.windowTimes[2 * block]!),
    untilMin: Float64Array.from(blocks, (block) => lastStartIn(routes, 2 * block, minutes[block]!)),
    capacity,
  };
}

/** For each number of stops a few ways: when the vehicle is at its base (or must be, at the latest), and how far it drove (or has to). */
interface Ways {
  readonly min: Float64Array;
  readonly km: Float64Array;
  readonly count: Int32Array;
  readonly leastKm: Float64Array;
  /** Where the last trip of a way began, and by which way. */
  readonly tripFrom: Int32Array;
  readonly before: Int32Array;
}

function createWays(stride: number): Ways {
  const size = stride * mostWays;
  return {
    min: new Float64Array(size),
    km: new Float64Array(size),
    count: new Int32Array(stride),
    leastKm: new Float64Array(stride),
    tripFrom: new Int32Array(size),
    before: new Int32Array(size),
  };
}

/** Keep a way unless another is as good; `sign` 1 where earlier is better, -1 where later is. */
function addWay(ways: Ways, at: number, min: number, km: number, tripFrom: number, before: number, sign: 1 | -1): void {
  const held = at * mostWays;
  let count = ways.count[at]!;
  for (let i = held; i < held + count; i++) {
    if (ways.km[i]! <= km && sign * ways.min[i]! <= sign * min) return;
  }
  for (let i = held; i < held + count; ) {
    if (km <= ways.km[i]! && sign * min <= sign * ways.min[i]!) {
      count--;
      move(ways, held + count, i);
    } else {
      i++;
    }
  }
  // When there are too many the dearest gives way, and with it some time.
  let to = held + count;
  if (count === mostWays) {
    to = held;
    for (let i = held; i < held + count; i++) if (ways.km[i]! > ways.km[to]!) to = i;
    if (ways.km[to]! <= km) return;
  } else {
    count++;
  }
  ways.count[at] = count;
  ways.min[to] = min;
  ways.km[to] = km;
  ways.tripFrom[to] = tripFrom;
  ways.before[to] = before;
  if (km < ways.leastKm[at]!) ways.leastKm[at] = km;
}

function move(ways: Ways, from: number, to: number): void {
  ways.min[to] = ways.min[from]!;
  ways.km[to] = ways.km[from]!;
  ways.tripFrom[to] = ways.tripFrom[from]!;
  ways.before[to] = ways.before[from]!;
}

/**
 * Stops in a row: begun at t, at most at `startBy`, they end at max(t + busy, soonest). Two such rows make one (Vidal et al. 2013, "A hybrid genetic algorithm with adaptive
 * diversity management for a large class of vehicle routing problems with time-windows").
 */
function forward(
  tables: Tables,
  release: Float64Array,
  slot: number,
  sequence: Int32Array,
  count: number,
  ways: Ways,
): void {
  const { routes, place, minutes, fromMin, untilMin, capacity } = tables;
  const { travelMin: way, placeCount, load: loadOf } = routes;
  const base = routes.startPlace[slot]! * placeCount;
  const toMin = routes.toMin[slot]!;
  ways.count.fill(0, 0, count + 1);
  ways.leastKm.fill(Number.POSITIVE_INFINITY, 0, count + 1);
  addWay(ways, 0, routes.fromMin[slot]!, 0, -1, -1, 1);
  for (let first = 0; first < count; first++) {
    const held = first * mostWays;
    const known = ways.count[first]!;
    if (known === 0) continue;
    let busy = 0;
    let soonest = 0;
    let startBy = 0;
    let km = 0;
    let load = 0;
    let releaseMin = 0;
    const out = way[base + place[sequence[first]!]!]!;
    for (let last = first; last < count; last++) {
      const block = sequence[last]!;
      const own = minutes[block]!;
      load += loadOf[block]!;
      if (load > capacity) break;
      if (last === first) {
        busy = own;
        soonest = fromMin[block]! + own;
        startBy = untilMin[block]!;
        km = out;
      } else {
        const there = way[place[sequence[last - 1]!]! * placeCount + place[block]!]!;
        if (soonest + there > untilMin[block]!) break;
        startBy = Math.min(startBy, untilMin[block]! - there - busy);
        busy += there + own;
        soonest = Math.max(soonest + there, fromMin[block]!) + own;
        km += there;
      }
      releaseMin = Math.max(releaseMin, release[block]!);
      const back = way[base + place[block]!]!;
      for (let i = held; i < held + known; i++) {
        const startMin = Math.max(ways.min[i]!, releaseMin) + out;
        if (startMin > startBy) continue;
        const backMin = Math.max(startMin + busy, soonest) + back;
        if (backMin <= toMin) addWay(ways, last + 1, backMin, ways.km[i]! + km + back, first, i - held, 1);
      }
    }
  }
}

/** From the end: the latest minute at the base from which the stops from one on can still be done. */
function backward(
  tables: Tables,
  release: Float64Array,
  slot: number,
  sequence: Int32Array,
  count: number,
  ways: Ways,
): void {
  const { routes, place, minutes, fromMin, untilMin, capacity } = tables;
  const { travelMin: way, placeCount, load: loadOf } = routes;
  const base = routes.startPlace[slot]! * placeCount;
  ways.count.fill(0, 0, count + 1);
  ways.leastKm.fill(Number.POSITIVE_INFINITY, 0, count + 1);
  addWay(ways, count, routes.toMin[slot]!, 0, -1, -1, -1);
  for (let last = count - 1; last >= 0; last--) {
    const held = (last + 1) * mostWays;
    const known = ways.count[last + 1]!;
    if (known === 0) continue;
    let busy = 0;
    let soonest = 0;
    let startBy = 0;
    let km = 0;
    let load = 0;
    let releaseMin = 0;
    const back = way[base + place[sequence[last]!]!]!;
    for (let first = last; first >= 0; first--) {
      const block = sequence[first]!;
      const own = minutes[block]!;
      load += loadOf[block]!;
      if (load > capacity) break;
      if (first === last) {
        busy = own;
        soonest = fromMin[block]! + own;
        startBy = untilMin[block]!;
        km = back;
      } else {
        const there = way[place[block]! * placeCount + place[sequence[first + 1]!]!]!;
        if (fromMin[block]! + own + there > startBy) break;
        soonest = Math.max(fromMin[block]! + own + there + busy, soonest);
        startBy = Math.min(untilMin[block]!, startBy - there - own);
        busy += there + own;
        km += there;
      }
      releaseMin = Math.max(releaseMin, release[block]!);
      const out = way[base + place[block]!]!;
      for (let i = held; i < held + known; i++) {
        const endMin = ways.min[i]! - back;
        if (soonest > endMin) continue;
        const leaveMin = Math.min(startBy, endMin - busy) - out;
        if (leaveMin >= releaseMin) addWay(ways, first, leaveMin, ways.km[i]! + km + out, -1, -1, -1);
      }
    }
  }
}

/** The way that is shortest, cut by cut. */
function tripStarts(ways: Ways, count: number): number[] {
  let at = count;
  let way = cheapest(ways, count);
  const starts: number[] = [];
  while (at > 0) {
    const on = at * mostWays + way;
    starts.push(ways.tripFrom[on]!);
    way = ways.before[on]!;
    at = ways.tripFrom[on]!;
  }
  return starts.reverse();
}

function cheapest(ways: Ways, at: number): number {
  const held = at * mostWays;
  let best = 0;
  for (let i = 1; i < ways.count[at]!; i++) if (ways.km[held + i]! < ways.km[held + best]!) best = i;
  return best;
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

/** What a block adds at each place of a slot that is better than those before it, exactly: over all trips that it could be part of, and all ways to do the stops before and after them. */
function bestPlaces(
  tables: Tables,
  release: Float64Array,
  state: State,
  slot: number,
  block: number,
  sequence: Int32Array,
  count: number,
  done: Ways,
  toDo: Ways,
  promised: Float64Array,
): number {
  const { routes, place, minutes, fromMin, untilMin, capacity } = tables;
  const { travelMin: way, placeCount, load: loadOf } = routes;
  if (count + 2 > routes.stride) return -1;
  const profile = routes.profiles[state.outfit[slot]!.profile]!;
  const base = routes.startPlace[slot]! * placeCount;
  const row = place[block]! * placeCount;
  let best = -1;
  let bestKm = Number.POSITIVE_INFINITY;
  for (let at = 0; at <= count; at++) {
    let leastKm = bestKm;
    // The trip's stops up to the block, from place `first` on.
    let busy = minutes[block]!;
    let soonest = fromMin[block]! + busy;
    let startBy = untilMin[block]!;
    let km = 0;
    let load = loadOf[block]!;
    let releaseMin = release[block]!;
    for (let first = at; first >= 0 && load <= capacity; first--) {
      if (first < at) {
        const before = sequence[first]!;
        const next = first + 1 === at ? block : sequence[first + 1]!;
        const there = way[place[before]! * placeCount + place[next]!]!;
        const own = minutes[before]!;
        load += loadOf[before]!;
        if (load > capacity || fromMin[before]! + own + there > startBy) break;
        soonest = Math.max(fromMin[before]! + own + there + busy, soonest);
        startBy = Math.min(untilMin[before]!, startBy - there - own);
        busy += there + own;
        km += there;
        releaseMin = Math.max(releaseMin, release[before]!);
      }
      const known = done.count[first]!;
      if (known === 0) continue;
      const firstHeld = first * mostWays;
      const out = way[base + place[first === at ? block : sequence[first]!]!]!;
      let tripBusy = busy;
      let tripSoonest = soonest;
      let tripStartBy = startBy;
      let tripKm = km + out;
      let tripLoad = load;
      let tripRelease = releaseMin;
      for (let end = at; end <= count; end++) {
        if (end > at) {
          const after = sequence[end - 1]!;
          const there =
            end - 1 === at ? way[row + place[after]!]! : way[place[sequence[end - 2]!]! * placeCount + place[after]!]!;
          tripLoad += loadOf[after]!;
          if (tripLoad > capacity || tripSoonest + there > untilMin[after]!) break;
          tripStartBy = Math.min(tripStartBy, untilMin[after]! - there - tripBusy);
          tripBusy += there + minutes[after]!;
          tripSoonest = Math.max(tripSoonest + there, fromMin[after]!) + minutes[after]!;
          tripKm += there;
          tripRelease = Math.max(tripRelease, release[after]!);
        }
        const back = way[base + place[end === at ? block : sequence[end - 1]!]!]!;
        if (done.leastKm[first]! + tripKm + back + toDo.leastKm[end]! >= bestKm) continue;
        const endHeld = end * mostWays;
        for (let i = firstHeld; i < firstHeld + known; i++) {
          const startMin = Math.max(done.min[i]!, tripRelease) + out;
          const soFar = done.km[i]! + tripKm + back;
          if (startMin > tripStartBy || soFar >= leastKm) continue;
          const backMin = Math.max(startMin + tripBusy, tripSoonest) + back;
          for (let j = endHeld; j < endHeld + toDo.count[end]!; j++) {
            if (backMin <= toDo.min[j]! && soFar + toDo.km[j]! < leastKm) leastKm = soFar + toDo.km[j]!;
          }
        }
      }
    }
    promised[at] = Number.POSITIVE_INFINITY;
    if (leastKm >= bestKm) continue;
    promised[at] = profile.fixedCents + leastKm * profile.centsPerKm - state.slotCents[slot]!;
    bestKm = leastKm;
    best = at;
  }
  return best;
}
