import type { Arcs } from "./arcs.ts";
import type { Task } from "./task.ts";

/**
 * What a route costs at least from a stop home, when the stop is done in a step of time: an ng-route relaxation backwards, without the waiting, overtime, cleaning and water
 * that only who comes from the base knows. Ways home from stop k in step s are those from (s * stops + k) * width on, cheapest first, each with the blocks that it serves as far as
 * k remembers them. Of many ways the dearest are one that serves nothing known: the last, which fits every route.
 */
export interface Completion {
  readonly width: number;
  readonly cents: Float64Array;
  readonly served: Int32Array;
  /** Of the whole route. */
  readonly leastCents: number;
}

export function completionOf(task: Task, arcs: Arcs, width: number, wageCentsPerMin: number): Completion {
  const { day, prizeCents, fixedCents, near } = task;
  const { count, span, lengthMin, endStep, stepMin, block, homeMin, homeCents, firstWay, wayCents } = day;
  const { openMin, lastMin, outMin, outCents } = day;
  const steps = Math.ceil(span / stepMin);
  const cents = new Float64Array(count * steps * width).fill(Number.POSITIVE_INFINITY);
  const served = new Int32Array(count * steps * width);
  // What a stop costs at least, whenever it is made.
  const visitCents = new Float64Array(count);
  const firstStep = new Int32Array(count);
  const lastStep = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    let least = Number.POSITIVE_INFINITY;
    let soonest = span;
    let latest = 0;
    for (let way = firstWay[k]!; way < firstWay[k + 1]!; way++) {
      least = Math.min(least, wayCents[way]! + lengthMin[way]! * wageCentsPerMin);
      soonest = Math.min(soonest, openMin[way]! + lengthMin[way]!);
      latest = Math.max(latest, lastMin[way]! + lengthMin[way]!);
    }
    visitCents[k] = least - prizeCents[block[k]!]!;
    firstStep[k] = Math.floor(soonest / stepMin);
    lastStep[k] = Math.floor(latest / stepMin);
  }
  const arcMin = new Int16Array(count * count);
  const arcCents = new Float64Array(count * count);
  for (let k = 0; k < count; k++) {
    for (let to = 0; to < count; to++) {
      const at = k * count + to;
      const moveMin = arcs.surelyMin[at]!;
      arcMin[at] = block[k] === block[to] ? span : moveMin;
      arcCents[at] = arcs.roadCents[at]! + moveMin * wageCentsPerMin + visitCents[to]!;
    }
  }

  /** The cheapest way home in all steps seen so far, by stop. */
  const soFarCents = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  // Ways of the stop and step at hand: some that tell what they serve, and what any other costs at least.
  const ownCents = new Float64Array(width + 1);
  const ownServed = new Int32Array(width + 1);
  let own = 0;
  let anyCents = Number.POSITIVE_INFINITY;
  const load = (at: number) => {
    own = 0;
    while (served[at * width + own] !== 0) {
      ownCents[own] = cents[at * width + own]!;
      ownServed[own] = served[at * width + own]!;
      own++;
    }
    anyCents = cents[at * width + own]!;
  };
  const store = (at: number) => {
    for (let way = 0; way < own; way++) {
      cents[at * width + way] = ownCents[way]!;
      served[at * width + way] = ownServed[way]!;
    }
    cents[at * width + own] = anyCents;
    served[at * width + own] = 0;
    const k = at % count;
    soFarCents[k] = Math.min(soFarCents[k]!, cents[at * width]!);
  };
  const put = (price: number, serves: number) => {
    let at = 0;
    while (at < own && ownCents[at]! <= price) {
      if ((ownServed[at]! & ~serves) === 0) return;
      at++;
    }
    let kept = at;
    for (let way = at; way < own; way++) {
      // Dearer, and serves all of this and more.
      if ((serves & ~ownServed[way]!) === 0) continue;
      if (kept !== way) {
        ownCents[kept] = ownCents[way]!;
        ownServed[kept] = ownServed[way]!;
      }
      kept++;
    }
    own = kept;
    for (let way = own; way > at; way--) {
      ownCents[way] = ownCents[way - 1]!;
      ownServed[way] = ownServed[way - 1]!;
    }
    ownCents[at] = price;
    ownServed[at] = serves;
    own++;
    if (own === width) anyCents = ownCents[--own]!;
  };
  const follow = (k: number, from: number, to: number, onArc: number) => {
    const row = block[k]! * near.count;
    const back = arcs.bit[to * count + k]!;
    const toBit = arcs.bit[k * count + to]!;
    const members = block[to]! * near.size;
    for (let way = from * width; ; way++) {
      const price = cents[way]! + onArc;
      if (price >= anyCents) return;
      const serves = served[way]!;
      if ((serves & back) === 0) {
        let known = toBit;
        for (let rest = serves; rest !== 0; rest &= rest - 1) {
          const bit = near.bitOf[row + near.members[members + 31 - Math.clz32(rest & -rest)]!]!;
          if (bit >= 0) known |= 1 << bit;
        }
        if (known === 0) anyCents = price;
        else put(price, known);
      }
      if (serves === 0) return;
    }
  };
  const drop = () => {
    while (own > 0 && ownCents[own - 1]! >= anyCents) own--;
  };

  const { withinStep } = day;
  for (let step = steps - 1; step >= 0; step--) {
    const min = step * stepMin;
    for (let k = 0; k < count; k++) {
      if (step < firstStep[k]! || step > lastStep[k]!) continue;
      own = 0;
      anyCents = min + homeMin[k]! < span ? homeCents[k]! + homeMin[k]! * wageCentsPerMin : Number.POSITIVE_INFINITY;
      const row = k * count;
      for (let to = 0; to < count; to++) {
        const onArc = arcCents[row + to]!;
        if (onArc + soFarCents[to]! >= anyCents) continue;
        const ready = min + arcMin[row + to]!;
        if (ready >= span) continue;
        const then = endStep[to * span + ready]!;
        if (then < 0) continue;
        const from = then * count + to;
        if (cents[from * width]! + onArc < anyCents) follow(k, from, to, onArc);
      }
      drop();
      store(step * count + k);
    }
    // A few works on one pad may all end within one step.
    for (let pass = 0; pass < withinStep.passes; pass++) {
      for (let arc = 0; arc < withinStep.from.length; arc++) {
        const k = withinStep.from[arc]!;
        const to = withinStep.to[arc]!;
        if (step < firstStep[k]! || step > lastStep[k]!) continue;
        const ready = min + arcMin[k * count + to]!;
        if (ready >= span || endStep[to * span + ready] !== step) continue;
        load(step * count + k);
        follow(k, step * count + to, to, arcCents[k * count + to]!);
        drop();
        store(step * count + k);
      }
    }
  }

  let leastCents = Number.POSITIVE_INFINITY;
  for (let k = 0; k < count; k++) {
    for (let way = firstWay[k]!; way < firstWay[k + 1]!; way++) {
      const start = Math.max(openMin[way]!, outMin[k]!);
      if (start > lastMin[way]!) continue;
      const at = Math.floor((start + lengthMin[way]!) / stepMin) * count + k;
      leastCents = Math.min(
        leastCents,
        fixedCents + outCents[k]! + outMin[k]! * wageCentsPerMin + visitCents[k]! + cents[at * width]!,
      );
    }
  }
  return { width, cents, served, leastCents };
}
