import type { Completion } from "./completion.ts";
import type { FoundRoute, Task } from "./task.ts";
import { fillMinutes } from "./water.ts";

/**
 * Labels of partial routes, by stop: elementary as far as the near sets remember (ng-routes: Baldacci, Mingozzi & Roberti 2011, "New Route Relaxation and Pricing Strategies
 * for the Vehicle Routing Problem", Operations Research 59). A label knows when its last stop ends at the earliest, how much later the crew could leave without
 * being late anywhere (`slack`, Savelsbergh 1992: waiting shorter than that costs nothing), and its duty so far.
 */
export interface LabelPool {
  capacity: number;
  count: number;
  stop: Int32Array;
  before: Int32Array;
  endMin: Int32Array;
  slackMin: Int32Array;
  dutyMin: Float64Array;
  cents: Float64Array;
  memory: Int32Array;
  /** Triples of which an odd number of blocks was served. */
  low: Int32Array;
  high: Int32Array;
  /** What is left in tanks and hoppers: the tanks' residue times a byte, and the hoppers'. */
  left: Int32Array;
  /** Taken from the tender so far. */
  waterL: Float64Array;
  /** Next label of the same minute. */
  beside: Int32Array;
}

export function createLabelPool(): LabelPool {
  const capacity = 1 << 14;
  return {
    capacity,
    count: 0,
    stop: new Int32Array(capacity),
    before: new Int32Array(capacity),
    endMin: new Int32Array(capacity),
    slackMin: new Int32Array(capacity),
    dutyMin: new Float64Array(capacity),
    cents: new Float64Array(capacity),
    memory: new Int32Array(capacity),
    low: new Int32Array(capacity),
    high: new Int32Array(capacity),
    left: new Int32Array(capacity),
    waterL: new Float64Array(capacity),
    beside: new Int32Array(capacity),
  };
}

function grow(pool: LabelPool): void {
  pool.capacity *= 2;
  for (const key of ["stop", "before", "endMin", "slackMin", "memory", "low", "high", "left", "beside"] as const) {
    const wider = new Int32Array(pool.capacity);
    wider.set(pool[key]);
    pool[key] = wider;
  }
  for (const key of ["dutyMin", "cents", "waterL"] as const) {
    const wider = new Float64Array(pool.capacity);
    wider.set(pool[key]);
    pool[key] = wider;
  }
}

export interface Search {
  /** Exact, or only routes that are good in cost and time are followed. */
  readonly exact: boolean;
  /** Routes that are not cheaper than this do not matter. */
  readonly belowCents: number;
  readonly mostRoutes: number;
  /** Given up beyond so many. */
  readonly mostLabels: number;
}

export interface SearchResult {
  /** Cheapest first, each ending at another stop. */
  readonly routes: FoundRoute[];
  /** No route is cheaper than this (exact search), or -Infinity if the search was given up. */
  readonly leastCents: number;
  readonly labels: number;
}

export function searchRoutes(
  task: Task,
  completion: Completion,
  over: Completion | null,
  pool: LabelPool,
  search: Search,
): SearchResult {
  const { day, moves, stopCount, roadCents, wageCentsPerMin, prizeCents, near, dutyMaxMin, standardMin } = task;
  const { overtimeCentsPerMin, fixedCents, triples, residues, tenderL, fillLPerMin } = task;
  const { count, span, minutes, block, stop, homeMin, homeCents, firstWay, openMin, lastMin, wayCents, stepMin } = day;
  const { width } = completion;
  const { exact, mostLabels } = search;
  const firstAt = new Int32Array(span).fill(-1);
  const settled: number[][] = Array.from({ length: count }, () => []);
  const bestEnd = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const bestLabel = new Int32Array(count).fill(-1);
  let below = search.belowCents;
  const quickBest = new Float64Array(exact ? 0 : count * Math.ceil(span / stepMin)).fill(Number.POSITIVE_INFINITY);
  pool.count = 0;

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
    // What it costs at least until the crew is home again.
    const at = Math.floor(end / stepMin) * count + k;
    // The cheapest way home that serves none of what was served.
    let way = at * width;
    while ((completion.served[way]! & memory) !== 0) way++;
    const rest = completion.cents[way]!;
    if (cents + rest >= below) return;
    if (over !== null) {
      // As if every minute of the day were beyond the standard ones, and those were refunded.
      let dear = at * over.width;
      while ((over.served[dear]! & memory) !== 0) dear++;
      if (cents + (duty - standardMin) * overtimeCentsPerMin + over.cents[dear]! >= below) return;
    }
    if (!exact) {
      // One label for each stop and step of time.
      if (cents >= quickBest[at]!) return;
      quickBest[at] = cents;
    }
    if (pool.count === pool.capacity) grow(pool);
    const label = pool.count++;
    pool.stop[label] = k;
    pool.before[label] = before;
    pool.endMin[label] = end;
    pool.slackMin[label] = slack;
    pool.dutyMin[label] = duty;
    pool.cents[label] = cents;
    pool.memory[label] = memory;
    pool.left[label] = left;
    pool.waterL[label] = waterL;
    pool.low[label] = low;
    pool.high[label] = high;
    pool.beside[label] = firstAt[end]!;
    firstAt[end] = label;
  };

  for (let k = 0; k < count; k++) {
    const own = 1 << near.bitOf[block[k]! * near.count + block[k]!]!;
    const duty = day.outMin[k]! + minutes[k]!;
    if (duty > dutyMaxMin) continue;
    const cents = fixedCents + day.outCents[k]! + duty * wageCentsPerMin - prizeCents[block[k]!]!;
    for (let way = firstWay[k]!; way < firstWay[k + 1]!; way++) {
      const start = Math.max(openMin[way]!, day.outMin[k]!);
      if (start > lastMin[way]!) continue;
      put(
        k,
        -1,
        start + minutes[k]!,
        lastMin[way]! - start,
        duty,
        cents + wayCents[way]!,
        own,
        triples.low[block[k]!]!,
        triples.high[block[k]!]!,
        leftAfter(0, k),
        day.waterL[k]!,
      );
    }
  }

  let givenUp = false;
  for (let min = 0; min < span && !givenUp; min++) {
    for (let label = firstAt[min]!; label >= 0; label = pool.beside[label]!) {
      const k = pool.stop[label]!;
      const cents = pool.cents[label]!;
      const duty = pool.dutyMin[label]!;
      const slack = pool.slackMin[label]!;
      const memory = pool.memory[label]!;
      const low = pool.low[label]!;
      const left = pool.left[label]!;
      const waterL = pool.waterL[label]!;
      const filledMin = fillMin(waterL);
      const high = pool.high[label]!;
      if (exact) {
        if (isDominated(settled[k]!, cents, duty, slack, memory, min, low, high, left, waterL)) continue;
        settle(settled[k]!, label, cents);
      } else if (cents > quickBest[Math.floor(min / stepMin) * count + k]!) continue;

      const homeDuty = duty + homeMin[k]!;
      if (min + homeMin[k]! < span && homeDuty <= dutyMaxMin) {
        const over = homeDuty - standardMin;
        const total =
          cents + homeCents[k]! + homeMin[k]! * wageCentsPerMin + (over > 0 ? over * overtimeCentsPerMin : 0);
        if (total < bestEnd[k]!) {
          bestEnd[k] = total;
          bestLabel[k] = label;
          if (total < below && exact) below = total;
        }
      }
      const row = stop[k]! * stopCount;
      const members = block[k]! * near.size;
      for (let to = 0; to < count; to++) {
        const toBlock = block[to]!;
        const bit = near.bitOf[block[k]! * near.count + toBlock]!;
        if (bit >= 0 && (memory & (1 << bit)) !== 0) continue;
        const toWaterL = waterL + day.waterL[to]!;
        const moveMin = moves.minutes[row + stop[to]!]! + cleanMin(left, to) + fillMin(toWaterL) - filledMin;
        const ready = min + moveMin;
        if (ready > lastMin[firstWay[to + 1]! - 1]!) continue;
        const busy = duty + moveMin + minutes[to]!;
        if (busy > dutyMaxMin) continue;
        let kept = -1;
        const toLow = triples.low[toBlock]!;
        const toHigh = triples.high[toBlock]!;
        const toCents =
          (((low & toLow) | (high & toHigh)) === 0 ? cents : cents + priceOf(low & toLow, high & toHigh)) +
          roadCents[row + stop[to]!]! +
          (moveMin + minutes[to]!) * wageCentsPerMin -
          prizeCents[toBlock]!;
        for (let way = firstWay[to]!; way < firstWay[to + 1]!; way++) {
          const last = lastMin[way]!;
          if (ready > last) continue;
          const start = Math.max(ready, openMin[way]!);
          const spare = slack - (start - ready);
          const paid = spare < 0 ? -spare : 0;
          const toDuty = busy + paid;
          if (toDuty > dutyMaxMin) continue;
          if (kept < 0) kept = keep(members, memory, toBlock);
          const toSlack = spare < 0 ? 0 : Math.min(spare, last - start);
          put(
            to,
            label,
            start + minutes[to]!,
            toSlack,
            toDuty,
            toCents + wayCents[way]! + paid * wageCentsPerMin,
            kept,
            low ^ toLow,
            high ^ toHigh,
            leftAfter(left, to),
            toWaterL,
          );
          if (!exact) break;
        }
      }
      if (pool.count > mostLabels) {
        givenUp = true;
        break;
      }
    }
  }

  const ends = Array.from(bestLabel.keys())
    .filter((k) => bestLabel[k]! >= 0)
    .sort((a, b) => bestEnd[a]! - bestEnd[b]!);
  const routes = ends
    .filter((k) => bestEnd[k]! < search.belowCents)
    .slice(0, search.mostRoutes)
    .map((k) => toRoute(pool, bestLabel[k]!, bestEnd[k]!, homeMin[k]!));
  const least = ends.length === 0 ? Number.POSITIVE_INFINITY : bestEnd[ends[0]!]!;
  return {
    routes,
    leastCents: givenUp ? Number.NEGATIVE_INFINITY : Math.min(least, search.belowCents),
    labels: pool.count,
  };

  /** The memory of the next stop: those of the blocks remembered that it remembers too, and itself. */
  function keep(members: number, memory: number, toBlock: number): number {
    const to = toBlock * near.count;
    let kept = 1 << near.bitOf[to + toBlock]!;
    for (let rest = memory; rest !== 0; rest &= rest - 1) {
      const bit = near.bitOf[to + near.members[members + 31 - Math.clz32(rest & -rest)]!]!;
      if (bit >= 0) kept |= 1 << bit;
    }
    return kept;
  }

  /**
   * Is some settled label, which ends no later, at least as good for all that may follow? If it could leave less late by some minutes it may have to pay for waiting
   * them, which is reckoned at the wage; more duty is reckoned at overtime, if it cannot be too much for the day.
   */
  function isDominated(
    others: readonly number[],
    cents: number,
    duty: number,
    slack: number,
    memory: number,
    min: number,
    low: number,
    high: number,
    left: number,
    waterL: number,
  ): boolean {
    const lateBy = slack + min;
    const filledMin = fillMin(waterL);
    const tank = left >> 8;
    const hopper = left & 255;
    for (let i = 0; i < others.length; i++) {
      const other = others[i]!;
      const otherCents = pool.cents[other]!;
      if (otherCents > cents) return false;
      if ((pool.memory[other]! & ~memory) !== 0) continue;
      if (pool.waterL[other]! > waterL) continue;
      const otherLeft = pool.left[other]!;
      if (otherLeft !== left) {
        if (residues.noWorse[(otherLeft >> 8) * residues.count + tank] === 0) continue;
        if (residues.noWorse[(otherLeft & 255) * residues.count + hopper] === 0) continue;
      }
      // It may have to fill what this one has filled already.
      const toFill = filledMin - fillMin(pool.waterL[other]!);
      if (pool.endMin[other]! + toFill > min) continue;
      const short = toFill + Math.max(0, lateBy - pool.slackMin[other]! - pool.endMin[other]! - toFill);
      const otherDuty = pool.dutyMin[other]! + short;
      let atMost = otherCents + short * wageCentsPerMin;
      if (otherDuty > duty) {
        if (pool.dutyMin[other]! + span - 1 - pool.endMin[other]! > dutyMaxMin) continue;
        atMost += (otherDuty - duty) * overtimeCentsPerMin;
      }
      const moreLow = pool.low[other]! & ~low;
      const moreHigh = pool.high[other]! & ~high;
      if ((moreLow | moreHigh) !== 0) atMost += priceOf(moreLow, moreHigh);
      if (atMost <= cents) return true;
    }
    return false;
  }

  function fillMin(waterL: number): number {
    return fillMinutes(waterL, tenderL, fillLPerMin);
  }

  function cleanMin(left: number, k: number): number {
    const residue = residues.gear[stop[k]!] === 1 ? left >> 8 : left & 255;
    return residues.cleanMin[residue * stopCount + stop[k]!]!;
  }

  function leftAfter(left: number, k: number): number {
    const on = stop[k]!;
    return residues.gear[on] === 1
      ? (residues.after[(left >> 8) * stopCount + on]! << 8) | (left & 255)
      : (left & ~255) | residues.after[(left & 255) * stopCount + on]!;
  }

  function priceOf(low: number, high: number): number {
    let sum = 0;
    for (let rest = low; rest !== 0; rest &= rest - 1) sum += triples.cents[31 - Math.clz32(rest & -rest)]!;
    for (let rest = high; rest !== 0; rest &= rest - 1) sum += triples.cents[63 - Math.clz32(rest & -rest)]!;
    return sum;
  }

  /** In order of cost. */
  function settle(others: number[], label: number, cents: number): void {
    let at = others.length;
    while (at > 0 && pool.cents[others[at - 1]!]! > cents) at--;
    others.splice(at, 0, label);
  }
}

function toRoute(pool: LabelPool, label: number, reducedCents: number, homeMin: number): FoundRoute {
  const stops: number[] = [];
  for (let at = label; at >= 0; at = pool.before[at]!) stops.push(pool.stop[at]!);
  return { stops: stops.reverse(), reducedCents, dutyMin: pool.dutyMin[label]! + homeMin };
}
