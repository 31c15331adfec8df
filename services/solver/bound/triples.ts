import type { Column } from "./column.ts";
import type { TripleBits } from "./task.ts";

/**
 * Of three blocks, routes that serve two or more of them are at most one: true of whole plans, not of fractions (subset-row inequalities, Jepsen, Petersen, Spoorendonk &
 * Pisinger 2008, "Subset-Row Inequalities Applied to the Vehicle-Routing Problem with Time Windows", Operations Research 56).
 */
export type Triple = readonly [number, number, number];

/** How often a route counts: once for every two visits. */
export function countOf(triple: Triple, blocks: readonly number[]): number {
  let visits = 0;
  for (const block of blocks) if (triple.includes(block)) visits++;
  return visits >> 1;
}

/** Triples that an answer in fractions breaks, the most broken first; a block is in no more than a few of them. */
export function brokenTriples(
  columns: readonly Column[],
  shares: ArrayLike<number>,
  known: readonly Triple[],
  most: number,
): Triple[] {
  const together = new Map<number, Map<number, number>>();
  const used: { readonly blocks: readonly number[]; readonly share: number }[] = [];
  columns.forEach(({ blocks }, index) => {
    const share = shares[index]!;
    if (share < 1e-6) return;
    const own = [...new Set(blocks)].sort((a, b) => a - b);
    used.push({ blocks, share });
    for (let i = 0; i < own.length; i++) {
      for (let j = i + 1; j < own.length; j++) {
        const row = together.get(own[i]!) ?? new Map<number, number>();
        together.set(own[i]!, row);
        row.set(own[j]!, (row.get(own[j]!) ?? 0) + share);
      }
    }
  });
  const pair = (a: number, b: number) => together.get(Math.min(a, b))?.get(Math.max(a, b)) ?? 0;
  const all = [...new Set(used.flatMap(({ blocks }) => blocks))].sort((a, b) => a - b);
  const isKnown = new Set(known.map((triple) => triple.join()));
  const broken: { readonly triple: Triple; readonly over: number }[] = [];
  for (const a of all) {
    for (const b of all) {
      if (b <= a) continue;
      const ab = pair(a, b);
      for (const c of all) {
        if (c <= b) continue;
        const sum = ab + pair(a, c) + pair(b, c);
        if (sum < 1 + leastOver) continue;
        const triple: Triple = [a, b, c];
        if (isKnown.has(triple.join())) continue;
        const over = used.reduce((total, { blocks, share }) => total + share * countOf(triple, blocks), -1);
        if (over > leastOver) broken.push({ triple, over });
      }
    }
  }
  broken.sort((x, y) => y.over - x.over);
  const times = new Map<number, number>();
  const kept: Triple[] = [];
  for (const { triple } of broken) {
    if (kept.length === most) break;
    if (triple.some((block) => (times.get(block) ?? 0) >= mostOfBlock)) continue;
    for (const block of triple) times.set(block, (times.get(block) ?? 0) + 1);
    kept.push(triple);
  }
  return kept;
}

const leastOver = 0.02;
const mostOfBlock = 4;

/** As many as two words have bits. */
export const mostTriples = 64;

/** Triples with a price under bits. */
export function bitsOf(triples: readonly Triple[], prices: Float64Array, blocks: number): TripleBits {
  const low = new Int32Array(blocks);
  const high = new Int32Array(blocks);
  const cents = new Float64Array(mostTriples);
  let bit = 0;
  triples.forEach((triple, at) => {
    if (prices[at]! === 0) return;
    cents[bit] = prices[at]!;
    const words = bit < 32 ? low : high;
    for (const block of triple) words[block]! |= 1 << (bit % 32);
    bit++;
  });
  return { low, high, cents };
}
