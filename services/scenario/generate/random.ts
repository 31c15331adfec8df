/** A stream of numbers that depends on its seed and topic alone, so that a change in one topic leaves the others as they were. */
export interface Random {
  /** In [0, 1). */
  unit(): number;
  /** In [from, to). */
  between(from: number, to: number): number;
  /** A whole number from `from` to `to`, both included. */
  whole(from: number, to: number): number;
  chance(probability: number): boolean;
  pick<T>(items: readonly T[]): T;
  /** Picks by weight: [item, weight]. */
  weighted<T>(items: readonly (readonly [T, number])[]): T;
  /** Gaussian by Box and Muller's transform. */
  normal(mean: number, deviation: number): number;
  /** A stream of its own for a part of the work. */
  topic(name: string): Random;
}

/** FNV-1a over the text's UTF-16 units, 32 bits (published constants, MEMORY). */
function hashOfText(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) {
    hash ^= text.charCodeAt(index);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}

export function createRandom(seed: number, topic: string): Random {
  // sfc32: a small chaotic counter generator that passes the usual batteries of tests (MEMORY).
  let a = hashOfText(topic);
  let b = seed >>> 0;
  let c = Math.floor(seed / 2 ** 32) >>> 0;
  let counter = 1;
  const unit = (): number => {
    const sum = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return (sum >>> 0) / 2 ** 32;
  };
  for (let warmUp = 0; warmUp < 15; warmUp++) unit();

  return {
    unit,
    between: (from, to) => from + (to - from) * unit(),
    whole: (from, to) => from + Math.floor((to - from + 1) * unit()),
    chance: (probability) => unit() < probability,
    pick: (items) => items[Math.floor(items.length * unit())]!,
    weighted: (items) => {
      let left = unit() * items.reduce((sum, [, weight]) => sum + weight, 0);
      for (const [item, weight] of items) {
        left -= weight;
        if (left < 0) return item;
      }
      return items[items.length - 1]![0];
    },
    normal: (mean, deviation) =>
      mean + deviation * Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    topic: (name) => createRandom(seed, `${topic}/${name}`),
  };
}
