import { describe, expect, it } from "vitest";
import { createRandom, pickIndex } from "../../../services/solver/random.ts";
import { smallestBlockingSets } from "../../../services/solver/reasons/blockingSets.ts";

const many = 100_000;

/** It fits as soon as all atoms of one of the ways are gone. */
function fitsBy(ways: readonly (readonly number[])[]) {
  return (isGone: readonly boolean[]) => ways.some((way) => way.every((atom) => isGone[atom]));
}

/** By looking at every set there is, the smallest first. */
function byLookingAtAll(atoms: number, ways: readonly (readonly number[])[]): string[] {
  const fits = fitsBy(ways);
  const sets = Array.from({ length: 2 ** atoms }, (_, mask) =>
    Array.from({ length: atoms }, (_, atom) => atom).filter((atom) => (mask >> atom) % 2 === 1),
  );
  const blocks = (set: readonly number[]) => !fits(Array.from({ length: atoms }, (_, atom) => !set.includes(atom)));
  return sets
    .filter((set) => blocks(set) && !set.some((atom) => blocks(set.filter((one) => one !== atom))))
    .map((set) => set.join())
    .sort();
}

describe("smallest blocking sets", () => {
  it("by hand: the slope of one type and the rate of the other, or the licence of both", () => {
    // 0 slope of A, 1 rate of B, 2 licence. A flies without slope and licence, B without rate and licence.
    const found = smallestBlockingSets(
      3,
      fitsBy([
        [0, 2],
        [1, 2],
      ]),
      many,
    );
    expect(found).toEqual({ sets: [[2], [0, 1]], isAll: true });
  });

  it("are those that are found by looking at all sets", () => {
    for (let seed = 1; seed <= 300; seed++) {
      const random = createRandom(seed);
      const atoms = 1 + pickIndex(random, 8);
      const ways = Array.from({ length: 1 + pickIndex(random, 6) }, () =>
        Array.from({ length: atoms }, (_, atom) => atom).filter(() => random() < 0.45),
      );
      const { sets, isAll } = smallestBlockingSets(atoms, fitsBy(ways), many)!;
      expect(isAll).toBe(true);
      expect(sets.map((set) => set.join()).sort()).toEqual(byLookingAtAll(atoms, ways));
      expect(sets.map(({ length }) => length)).toEqual(sets.map(({ length }) => length).toSorted((a, b) => a - b));
    }
  });

  it("there are none where nothing blocks, and nothing is told where nothing helps", () => {
    expect(smallestBlockingSets(2, () => true, many)).toEqual({ sets: [], isAll: true });
    expect(smallestBlockingSets(2, () => false, many)).toBeNull();
  });

  it("broken off, those told are smallest ones all the same, and it is said", () => {
    const ways = Array.from({ length: 8 }, (_, way) => [way * 2, way * 2 + 1]);
    const { sets, isAll } = smallestBlockingSets(16, fitsBy(ways), 60)!;
    expect(isAll).toBe(false);
    expect(sets.length).toBeGreaterThan(0);
    for (const set of sets) expect(set.map((atom) => atom >> 1)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
  });
});
