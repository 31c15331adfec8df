import type { Arcs } from "./arcs.ts";
import type { Completion } from "./completion.ts";
import { isDominated, settle, tripleCents } from "./dominance.ts";
import { type LabelPool, stopsOf } from "./labelPool.ts";
import type { FoundRoute, Task } from "./task.ts";
import { fillMinutes } from "./water.ts";

export interface Search {
  /** How thorough: `thin` follows the cheapest to each stop and step of time, and none that serves a block twice; `exact` all that matter. */
  readonly mode: "thin" | "exact";
  /** Routes that are not cheaper than this do not matter. */
  readonly belowCents: number;
  readonly mostRoutes: number;
  readonly mostLabels: number;
  /** Ways home, and the same as if all duty were overtime. */
  readonly completion: Completion;
  readonly over: Completion | null;
}

export interface SearchResult {
  /** Cheapest first, each ending at another stop. */
  readonly routes: FoundRoute[];
  /** No route is cheaper than this (exact search), or -Infinity if the search was given up. */
  readonly leastCents: number;
}

/**
 * The cheapest routes of a task, by labels: a label is a route as far as its last stop. Elementary as far as the near sets remember (ng-routes: Baldacci, Mingozzi & Roberti
 * 2011, "New Route Relaxation and Pricing Strategies for the Vehicle Routing Problem", Operations Research 59). Work begins as early as it can; waiting that a
 * later leaving would have spared costs nothing (Savelsbergh 1992, "The Vehicle Routing Problem with Time Windows: Minimizing Route Duration").
 */
export function searchRoutes(task: Task, arcs: Arcs, pool: LabelPool, search: Search): SearchResult {
  const { day, stopCount, wageCentsPerMin, prizeCents, near, dutyMaxMin, standardMin } = task;
  const { overtimeCentsPerMin, fixedCents, triples, residues, tenderL, fillLPerMin } = task;
  const { count, span, block, stop, homeMin, homeCents, firstWay, openMin, lastMin, lengthMin, stepMin } = day;
  const { completion, over, mode } = search;
  const { width } = completion;
  const exact = mode === "exact";
  const mostLabels = Math.min(pool.size, search.mostLabels);
  const firstAt = new Int32Array(span).fill(-1);
  const bestEnd = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const bestLabel = new Int32Array(count).fill(-1);
  const thinnest = new Float64Array(mode === "thin" ? count * Math.ceil(span / stepMin) : 0);
  thinnest.fill(Number.POSITIVE_INFINITY);
  let below = search.belowCents;
  let made = 0;

  // Of a way: what its minutes cost and its block brings; of a stop: its latest start, its cheapest way, the block's own bit in its memory.
  const wayCents = new Float64Array(lengthMin.length);
  const latest = new Int32Array(count);
  const leastWayCents = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const ownBit = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    for (let way = firstWay[k]!; way < firstWay[k + 1]!; way++) {
      wayCents[way] = day.wayCents[way]! + lengthMin[way]! * wageCentsPerMin - prizeCents[block[k]!]!;
      leastWayCents[k] = Math.min(leastWayCents[k]!, wayCents[way]!);
      latest[k] = Math.max(latest[k]!, lastMin[way]!);
    }
    ownBit[k] = arcs.bit[k * count + k]!;
  }

  const put = (
    k: number,
    before: number,
    end: number,
    slack: number,
    duty: number,
    cents: number,
    memory: number,
    low: number,
    high: number,
    left: number,
    waterL: number,
  ): void => {
    if (made === mostLabels) return;
    const at = Math.floor(end / stepMin) * count + k;
    // The cheapest way home that serves none of what was served.
    let way = at * width;
    while ((completion.served[way]! & memory) !== 0) way++;
    const promise = cents + completion.cents[way]!;
    if (promise >= below) return;
    if (over !== null) {
      // As if every minute of the day were beyond the standard ones, and those were refunded.
      let dear = at * over.width;
      while ((over.served[dear]! & memory) !== 0) dear++;
      if (cents + (duty - standardMin) * overtimeCentsPerMin + over.cents[dear]! >= below) return;
    }
    if (mode === "thin") {
      if (cents >= thinnest[at]!) return;
      thinnest[at] = cents;
    }
    const label = made++;
    pool.stop[label] = k;
    pool.before[label] = before;
    pool.endMin[label] = end;
    pool.slackMin[label] = slack;
    pool.dutyMin[label] = duty;
    pool.cents[label] = cents;
    pool.memory[label] = memory;
    pool.low[label] = low;
    pool.high[label] = high;
    pool.left[label] = left;
    pool.waterL[label] = waterL;
    pool.beside[label] = firstAt[end]!;
    firstAt[end] = label;
  };

  const leftAfter = (left: number, k: number): number => {
    const on = stop[k]!;
    return residues.gear[on] === 1
      ? (residues.after[(left >> 16) * stopCount + on]! << 16) | (left & 65535)
      : (left & ~65535) | residues.after[(left & 65535) * stopCount + on]!;
  };

  /** The memory of the next stop: those of the blocks remembered that it remembers too, and its own. */
  const remember = (k: number, memory: number, to: number): number => {
    const members = block[k]! * near.size;
    const toRow = block[to]! * near.count;
    let kept = ownBit[to]!;
    for (let rest = memory; rest !== 0; rest &= rest - 1) {
      const bit = near.bitOf[toRow + near.members[members + 31 - Math.clz32(rest & -rest)]!]!;
      if (bit >= 0) kept |= 1 << bit;
    }
    return kept;
  };

  const isServed = (label: number, toBlock: number): boolean => {
    for (let at = label; at >= 0; at = pool.before[at]!) if (block[pool.stop[at]!] === toBlock) return true;
    return false;
  };

  const follow = (label: number): void => {
    const k = pool.stop[label]!;
    const min = pool.endMin[label]!;
    const cents = pool.cents[label]!;
    const duty = pool.dutyMin[label]!;
    const slack = pool.slackMin[label]!;
    const memory = pool.memory[label]!;
    const low = pool.low[label]!;
    const high = pool.high[label]!;
    const left = pool.left[label]!;
    const waterL = pool.waterL[label]!;
    const filledMin = fillMinutes(waterL, tenderL, fillLPerMin);
    const homeDuty = duty + homeMin[k]!;
    if (min + homeMin[k]! < span && homeDuty <= dutyMaxMin) {
      const overMin = Math.max(0, homeDuty - standardMin);
      const total = cents + homeCents[k]! + homeMin[k]! * wageCentsPerMin + overMin * overtimeCentsPerMin;
      if (total < bestEnd[k]!) {
        bestEnd[k] = total;
        bestLabel[k] = label;
        if (exact && total < below) below = total;
      }
    }
    const row = k * count;
    for (let to = 0; to < count; to++) {
      if ((memory & arcs.bit[row + to]!) !== 0) continue;
      let moveMin = arcs.min[row + to]!;
      let ready = min + moveMin;
      if (ready > latest[to]!) continue;
      let toCents = cents + arcs.roadCents[row + to]! + moveMin * wageCentsPerMin;
      const soonest = day.endStep[to * span + ready]! * count + to;
      if (toCents + leastWayCents[to]! + completion.cents[soonest * width]! >= below) continue;
      if (!exact && isServed(label, block[to]!)) continue;
      const residue = residues.gear[stop[to]!] === 1 ? left >> 16 : left & 65535;
      const toWaterL = waterL + day.waterL[to]!;
      const moreMin =
        residues.cleanMin[residue * stopCount + stop[to]!]! + fillMinutes(toWaterL, tenderL, fillLPerMin) - filledMin;
      moveMin += moreMin;
      ready += moreMin;
      toCents += moreMin * wageCentsPerMin;
      const busy = duty + moveMin;
      if (ready > latest[to]!) continue;
      const toLow = triples.low[block[to]!]!;
      const toHigh = triples.high[block[to]!]!;
      if (((low & toLow) | (high & toHigh)) !== 0) toCents += tripleCents(task, low & toLow, high & toHigh);
      const kept = remember(k, memory, to);
      const leftThen = leftAfter(left, to);
      for (let way = firstWay[to]!; way < firstWay[to + 1]!; way++) {
        const last = lastMin[way]!;
        if (ready > last) continue;
        const start = Math.max(ready, openMin[way]!);
        const spare = slack - (start - ready);
        const paid = Math.max(0, -spare);
        const toDuty = busy + lengthMin[way]! + paid;
        if (toDuty <= dutyMaxMin) {
          const whole = toCents + wayCents[way]! + paid * wageCentsPerMin;
          const toSlack = Math.max(0, Math.min(spare, last - start));
          const end = start + lengthMin[way]!;
          put(to, label, end, toSlack, toDuty, whole, kept, low ^ toLow, high ^ toHigh, leftThen, toWaterL);
        }
        if (!exact) break;
      }
    }
  };

  for (let k = 0; k < count; k++) {
    const cents = fixedCents + day.outCents[k]! + day.outMin[k]! * wageCentsPerMin;
    const own = block[k]!;
    for (let way = firstWay[k]!; way < firstWay[k + 1]!; way++) {
      const start = Math.max(openMin[way]!, day.outMin[k]!);
      if (start > lastMin[way]!) continue;
      const slack = lastMin[way]! - start;
      const whole = cents + wayCents[way]!;
      const end = start + lengthMin[way]!;
      const duty = day.outMin[k]! + lengthMin[way]!;
      if (duty > dutyMaxMin) continue;
      put(
        k,
        -1,
        end,
        slack,
        duty,
        whole,
        ownBit[k]!,
        triples.low[own]!,
        triples.high[own]!,
        leftAfter(0, k),
        day.waterL[k]!,
      );
    }
  }
  const settled: number[][] = Array.from({ length: count }, () => []);
  for (let min = 0; min < span; min++) {
    for (let label = firstAt[min]!; label >= 0; label = pool.beside[label]!) {
      const k = pool.stop[label]!;
      if (exact) {
        if (isDominated(task, pool, settled[k]!, label)) continue;
        settle(pool, settled[k]!, label);
      } else if (pool.cents[label]! > thinnest[Math.floor(min / stepMin) * count + k]!) continue;
      follow(label);
    }
  }

  const ends = Array.from(bestLabel.keys())
    .filter((k) => bestEnd[k]! < search.belowCents)
    .sort((a, b) => bestEnd[a]! - bestEnd[b]!);
  const routes = ends.slice(0, search.mostRoutes).map((k): FoundRoute => {
    const label = bestLabel[k]!;
    return {
      stops: stopsOf(pool, label),
      reducedCents: bestEnd[k]!,
      dutyMin: pool.dutyMin[label]! + homeMin[k]!,
    };
  });
  const isWhole = made < mostLabels;
  const leastCents = ends.length === 0 ? search.belowCents : bestEnd[ends[0]!]!;
  return { routes, leastCents: isWhole ? leastCents : Number.NEGATIVE_INFINITY };
}
