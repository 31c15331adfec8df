import type { RouteProblem } from "../../../services/solver/routes.ts";
import { lastStartIn } from "../../../services/solver/windows.ts";

/** Ways to have done the first stops (or to do the last) that are kept: each is cheaper than all that leave more time. */
export const mostWays = 6;

export interface Tables {
  readonly routes: RouteProblem;
  readonly place: Int32Array;
  readonly minutes: Float64Array;
  readonly fromMin: Float64Array;
  readonly untilMin: Float64Array;
  readonly capacity: number;
}

/** All vehicles of such an instance are alike. */
export function tablesOf(routes: RouteProblem): Tables {
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
export interface Ways {
  readonly min: Float64Array;
  readonly km: Float64Array;
  readonly count: Int32Array;
  readonly leastKm: Float64Array;
  /** Where the last trip of a way began, and by which way. */
  readonly tripFrom: Int32Array;
  readonly before: Int32Array;
}

export function createWays(stride: number): Ways {
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
export function forward(
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
export function backward(
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
export function tripStarts(ways: Ways, count: number): number[] {
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

export function cheapest(ways: Ways, at: number): number {
  const held = at * mostWays;
  let best = 0;
  for (let i = 1; i < ways.count[at]!; i++) if (ways.km[held + i]! < ways.km[held + best]!) best = i;
  return best;
}
