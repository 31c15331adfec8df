import type { Problem } from "../../problem.ts";

/** Sets of minutes of a slot's shift, each within the next, with their sizes: a block's work fits into the one of its level. */
export interface Hours {
  readonly roomMin: Float64Array;
  /** By block; -1 where it has no window. */
  readonly level: Int8Array;
}

/** Our choice: pieces into which a shift is cut, and sets that are told apart. */
const pieceMin = 10;
const levels = 8;

/**
 * Pieces of the shift in which most of the blocks are open come first: the first few of them are a set, with some more the next, and so on. A block whose windows lie within a set can only be
 * worked there, so that of all blocks of a level and those below no more minutes can be worked than the set has.
 */
export function hoursOf(
  { routes, blocks }: Problem,
  slot: number,
  variants: Int32Array,
  could: readonly number[],
  firstMin: number,
  lastMin: number,
): Hours {
  const { windowTimes, windowFirst, windowLast, days, dayOfSlot } = routes;
  const count = Math.max(0, Math.ceil((lastMin - firstMin) / pieceMin));
  const day = dayOfSlot[slot]!;
  const wanted = new Float64Array(count);
  // Blocks of one variant have the same windows.
  const spansOf = new Map<number, readonly number[]>();
  for (const block of could) {
    const variant = variants[block]!;
    let spans = spansOf.get(variant);
    if (spans === undefined) {
      const own: number[] = [];
      const on = variant * days + day;
      for (let w = windowFirst[on]!; w < windowLast[on]!; w += 2) {
        const openMin = Math.max(windowTimes[w]!, firstMin);
        const closeMin = Math.min(windowTimes[w + 1]!, lastMin);
        if (closeMin <= openMin) continue;
        own.push(Math.floor((openMin - firstMin) / pieceMin), Math.ceil((closeMin - firstMin) / pieceMin));
      }
      spans = own;
      spansOf.set(variant, own);
    }
    for (let i = 0; i < spans.length; i += 2) {
      for (let piece = spans[i]!; piece < spans[i + 1]!; piece++) wanted[piece] = wanted[piece]! + 1;
    }
  }
  const byWant = Array.from(wanted.keys()).sort((a, b) => wanted[b]! - wanted[a]!);
  const rank = new Int32Array(count);
  byWant.forEach((piece, at) => {
    rank[piece] = at;
  });
  const needOf = new Map<number, number>();
  for (const [variant, spans] of spansOf) {
    let most = -1;
    for (let i = 0; i < spans.length; i += 2) {
      for (let piece = spans[i]!; piece < spans[i + 1]!; piece++) most = Math.max(most, rank[piece]!);
    }
    needOf.set(variant, most);
  }
  const needs = could.map((block) => needOf.get(variants[block]!)!);
  // Sets for about as many blocks each.
  const sorted = needs.filter((need) => need >= 0).sort((a, b) => a - b);
  const ends =
    sorted.length === 0
      ? []
      : [
          ...new Set(
            Array.from({ length: levels }, (_, at) => sorted[Math.ceil(((at + 1) / levels) * sorted.length) - 1]!),
          ),
        ];
  const roomMin = Float64Array.from(ends, (end) => {
    let sum = 0;
    for (let at = 0; at <= end; at++) sum += Math.min(pieceMin, lastMin - firstMin - byWant[at]! * pieceMin);
    return sum;
  });
  const level = new Int8Array(blocks.length).fill(-1);
  could.forEach((block, at) => {
    const need = needs[at]!;
    level[block] = need < 0 ? -1 : ends.findIndex((end) => need <= end);
  });
  return { roomMin, level };
}
