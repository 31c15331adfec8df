import type { Task } from "./task.ts";

/** From stop to stop of one day, as [from * count + to]. */
export interface Arcs {
  /** Minutes on the way, without cleaning, and with what is certain of it. */
  readonly min: Int16Array;
  readonly surelyMin: Int16Array;
  readonly roadCents: Float64Array;
  /** Where `from` remembers the block of `to`; 0 when it does not. */
  readonly bit: Int32Array;
}

export function arcsOf({ day, moves, stopCount, roadCents, near }: Task): Arcs {
  const { count, stop, block } = day;
  const min = new Int16Array(count * count);
  const surelyMin = new Int16Array(count * count);
  const road = new Float64Array(count * count);
  const bit = new Int32Array(count * count);
  for (let from = 0; from < count; from++) {
    const row = stop[from]! * stopCount;
    const memory = block[from]! * near.count;
    for (let to = 0; to < count; to++) {
      const at = from * count + to;
      const on = row + stop[to]!;
      min[at] = moves.minutes[on]!;
      surelyMin[at] = moves.minutes[on]! + moves.cleanMin[on]!;
      road[at] = roadCents[on]!;
      const known = near.bitOf[memory + block[to]!]!;
      bit[at] = known < 0 ? 0 : 1 << known;
    }
  }
  return { min, surelyMin, roadCents: road, bit };
}
