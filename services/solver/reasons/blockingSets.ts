/** Whether the block would fit if these atoms were out of the way. What fits with some of them fits with more. */
export type Fits = (isGone: readonly boolean[]) => boolean;

export interface BlockingSets {
  /** Each alone blocks and no part of it does; the smallest first, of one size by the atoms' order. None where nothing blocks. */
  readonly sets: readonly (readonly number[])[];
  /** False when it was broken off, and there may be more of them, smaller ones too. */
  readonly isAll: boolean;
}

/** Most hitting sets held at once. Our choice: people read three of them. */
const mostHeld = 400;

/**
 * All smallest sets of atoms that together block, by asking `fits` alone: the duality of blocking sets and of what has to give way together (dualize and advance:
 * Gunopulos, Khardon, Mannila & Toivonen 1997; MARCO: Liffiton, Previti, Malik & Marques-Silva 2016). A set that hits all known ways of giving way either blocks, and
 * is then a smallest one, or shows one more way. Null when it does not fit even with all atoms out of the way.
 */
export function smallestBlockingSets(atoms: number, fits: Fits, mostAsked: number): BlockingSets | null {
  let asked = 0;
  const ask = (isGone: readonly boolean[]) => {
    asked++;
    return fits(isGone);
  };
  const all = Array.from({ length: atoms }, (_, atom) => atom);
  if (!ask(all.map(() => true))) return null;
  let hitting: (readonly number[])[] = [[]];
  const proven = new Map<string, readonly number[]>();
  for (;;) {
    const next = hitting.filter((set) => !proven.has(set.join())).sort(bySize)[0];
    if (next === undefined) break;
    if (asked + atoms > mostAsked || hitting.length > mostHeld) {
      if (proven.size === 0) return { sets: [oneBlockingSet(all, fits)], isAll: false };
      return { sets: [...proven.values()].sort(bySize), isAll: false };
    }
    const isGone = all.map((atom) => !next.includes(atom));
    if (ask(isGone)) hitting = hitAlso(hitting, leastGone(isGone, ask));
    else proven.set(next.join(), next);
  }
  const sets = [...proven.values()].filter(({ length }) => length > 0).sort(bySize);
  return { sets, isAll: true };
}

/** Of atoms with which it fits as few as do, the last ones kept where there is a choice. */
function leastGone(isGone: boolean[], fits: Fits): number[] {
  const left = [...isGone];
  for (let atom = 0; atom < left.length; atom++) {
    if (!left[atom]) continue;
    left[atom] = false;
    if (!fits(left)) left[atom] = true;
  }
  return left.flatMap((gone, atom) => (gone ? [atom] : []));
}

/** The smallest sets that hit what these hit and one more way, too (Berge 1989). */
function hitAlso(hitting: readonly (readonly number[])[], way: readonly number[]): (readonly number[])[] {
  const still = hitting.filter((set) => set.some((atom) => way.includes(atom)));
  const grown = hitting
    .filter((set) => !set.some((atom) => way.includes(atom)))
    .flatMap((set) => way.map((atom) => [...set, atom].sort((a, b) => a - b)));
  const least = [...still];
  for (const set of grown.sort(bySize)) {
    if (!least.some((other) => other.every((atom) => set.includes(atom)))) least.push(set);
  }
  return least;
}

/** By leaving out one atom after the other. */
function oneBlockingSet(all: readonly number[], fits: Fits): number[] {
  let set = [...all];
  for (const atom of [...all].reverse()) {
    const less = set.filter((one) => one !== atom);
    if (!fits(all.map((one) => !less.includes(one)))) set = less;
  }
  return set;
}

function bySize(one: readonly number[], other: readonly number[]): number {
  if (one.length !== other.length) return one.length - other.length;
  const at = one.findIndex((atom, place) => atom !== other[place]);
  return at < 0 ? 0 : one[at]! - other[at]!;
}
