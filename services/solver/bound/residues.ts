import type { Problem } from "../problem.ts";
import type { Stops } from "./moves.ts";

/**
 * What may be left in a tank or hopper: a compatibility group, and how long it takes to clean it out. Residue 0 is clean. Tables are by residue and stop: what is left after
 * the stop's work, and the minutes of cleaning before it.
 */
export interface Residues {
  readonly count: number;
  readonly after: Uint8Array;
  readonly cleanMin: Uint8Array;
  /** noWorse[a * count + b]: whatever follows, cleaning takes no longer after a than after b. */
  readonly noWorse: Uint8Array;
  /** By stop: 1 for tanks, 0 for hoppers. */
  readonly gear: Uint8Array;
}

export function residuesOf({ orders, blocks }: Problem, { block }: Stops): Residues {
  const orderOf = (stop: number) => orders[blocks[block[stop]!]!.order]!;
  const list: { readonly group: number; readonly min: number }[] = [{ group: 0, min: 0 }];
  const minutesOf = new Map<number, Set<number>>();
  for (let stop = 0; stop < block.length; stop++) {
    const { group, cleanOutMin } = orderOf(stop);
    if (group === 0) continue;
    const known = minutesOf.get(group) ?? new Set<number>();
    minutesOf.set(group, known.add(Math.ceil(cleanOutMin)));
  }
  for (const [group, minutes] of minutesOf) for (const min of minutes) list.push({ group, min });
  const indexOf = (group: number, min: number) => list.findIndex((one) => one.group === group && one.min === min);

  const count = list.length;
  const after = new Uint8Array(count * block.length);
  const cleanMin = new Uint8Array(count * block.length);
  list.forEach((left, residue) => {
    for (let stop = 0; stop < block.length; stop++) {
      const { group, cleanOutMin } = orderOf(stop);
      const at = residue * block.length + stop;
      if (group === 0) {
        after[at] = residue;
        continue;
      }
      const isOther = left.group !== 0 && left.group !== group;
      if (isOther) cleanMin[at] = left.min;
      after[at] = indexOf(group, isOther ? Math.ceil(cleanOutMin) : Math.max(left.min, Math.ceil(cleanOutMin)));
    }
  });
  const noWorse = new Uint8Array(count * count);
  list.forEach((a, at) => {
    list.forEach((b, other) => {
      noWorse[at * count + other] = a.group === 0 || (a.group === b.group && a.min <= b.min) ? 1 : 0;
    });
  });
  return { count, after, cleanMin, noWorse, gear: Uint8Array.from(block, (_, stop) => (orderOf(stop).liquid ? 1 : 0)) };
}
