import type { Problem } from "../problem.ts";
import type { Stops } from "./moves.ts";

/**
 * What may be left in a tank or hopper: a compatibility group, and how long it takes to clean it out. Residue 0 is clean. Tables are by residue and stop: what is left after
 * the stop's work, and the minutes of cleaning before it.
 */
export interface Residues {
  readonly count: number;
  readonly after: Uint16Array;
  readonly cleanMin: Int16Array;
  /** noWorse[a * count + b]: whatever follows, cleaning takes no longer after a than after b. */
  readonly noWorse: Uint8Array;
  /** By stop: 1 for tanks, 0 for hoppers. */
  readonly gear: Uint8Array;
}

interface Residue {
  readonly group: number;
  readonly min: number;
}

export function residuesOf({ orders, blocks }: Problem, { block }: Stops): Residues {
  const left = Array.from(block, (index): Residue => {
    const { group, cleanOutMin } = orders[blocks[index]!.order]!;
    return { group, min: Math.ceil(cleanOutMin) };
  });
  const isClean = ({ group }: Residue) => group === 0;
  const isSame = (a: Residue, b: Residue) => a.group === b.group && (isClean(a) || a.min === b.min);
  const list: Residue[] = [{ group: 0, min: 0 }];
  for (const one of left) if (!list.some((other) => isSame(one, other))) list.push(one);

  const count = list.length;
  const after = new Uint16Array(count * left.length);
  const cleanMin = new Int16Array(count * left.length);
  list.forEach((before, residue) => {
    left.forEach((own, stop) => {
      const at = residue * left.length + stop;
      const isOther = !isClean(before) && before.group !== own.group;
      if (isOther && !isClean(own)) cleanMin[at] = before.min;
      const longer: Residue = isOther ? own : { group: own.group, min: Math.max(before.min, own.min) };
      after[at] = isClean(own) ? residue : list.findIndex((one) => isSame(one, longer));
    });
  });
  const noWorse = Uint8Array.from({ length: count * count }, (_, at) => {
    const a = list[Math.floor(at / count)]!;
    const b = list[at % count]!;
    return Number(isClean(a) || (a.group === b.group && a.min <= b.min));
  });
  return {
    count,
    after,
    cleanMin,
    noWorse,
    gear: Uint8Array.from(block, (index) => Number(orders[blocks[index]!.order]!.liquid)),
  };
}
