import type { Problem } from "../problem.ts";
import type { NearSets } from "./task.ts";

/** Blocks that each block remembers, itself among them: our choice, by trial. */
const remembered = 14;

/** Bits of a word, but for its sign. */
const most = 31;

/** The same field first, for there is no way between its blocks, then the nearest. */
export function nearSetsOf(problem: Problem): NearSets {
  const count = problem.blocks.length;
  const members = new Int32Array(count * most).fill(-1);
  const bitOf = new Int8Array(count * count).fill(-1);
  const isOpen = new Uint8Array(count);
  for (const block of problem.open) isOpen[block] = 1;
  for (const block of problem.open) {
    const beside = problem.blocksOfField[problem.blocks[block]!.field]!;
    const order = [block, ...beside, ...problem.neighbours[block]!].filter((other) => isOpen[other] === 1);
    [...new Set(order)].slice(0, remembered).forEach((other, bit) => {
      members[block * most + bit] = other;
      bitOf[block * count + other] = bit;
    });
  }
  return { size: most, members, bitOf, count };
}

/** Let blocks remember those that a route came back to over them; gives how many they learned. */
export function learnCycles(near: NearSets, blocks: readonly number[]): number {
  let learned = 0;
  for (let to = 0; to < blocks.length; to++) {
    const from = blocks.lastIndexOf(blocks[to]!, to - 1);
    if (to === 0 || from < 0) continue;
    for (let at = from + 1; at < to; at++) if (remember(near, blocks[at]!, blocks[to]!)) learned++;
  }
  return learned;
}

function remember({ members, bitOf, count, size }: NearSets, block: number, other: number): boolean {
  if (bitOf[block * count + other]! >= 0) return false;
  for (let bit = 0; bit < size; bit++) {
    if (members[block * size + bit]! >= 0) continue;
    members[block * size + bit] = other;
    bitOf[block * count + other] = bit;
    return true;
  }
  return false;
}
