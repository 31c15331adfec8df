/** A source of numbers in [0, 1). */
export type Random = () => number;

/** Mulberry32 (Tommy Ettinger, public domain): small, quick, the same on every machine for the same seed. */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A whole number in [0, count). */
export function pickIndex(random: Random, count: number): number {
  return Math.floor(random() * count);
}

/** Fisher and Yates, in place. */
export function shuffle(items: number[], random: Random): void {
  for (let last = items.length - 1; last > 0; last--) {
    const other = pickIndex(random, last + 1);
    const held = items[last]!;
    items[last] = items[other]!;
    items[other] = held;
  }
}
