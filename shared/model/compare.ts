import type { Fault } from "./faults.ts";
import type { Located } from "./parts.ts";

/** Two properties of one thing of which the first may not exceed the second. */
export function ordered<T>(
  located: readonly Located<T>[],
  lowKey: string,
  highKey: string,
  lowOf: (item: T) => number | undefined,
  highOf: (item: T) => number | undefined,
): Fault[] {
  return located.flatMap(({ path, item }) => {
    const [low, high] = [lowOf(item), highOf(item)];
    if (low === undefined || high === undefined || low <= high) return [];
    return [{ path: [...path, lowKey], value: low, expected: `at most ${highKey}, which is ${high}` }];
  });
}

/** Two properties of one thing that only say something together: the one that is lacking is the fault. */
export function bothOrNeither<T extends object>(
  located: readonly Located<T>[],
  oneKey: keyof T & string,
  otherKey: keyof T & string,
): Fault[] {
  return located.flatMap(({ path, item }) => {
    if ((item[oneKey] === undefined) === (item[otherKey] === undefined)) return [];
    const [lacking, given] = item[oneKey] === undefined ? [oneKey, otherKey] : [otherKey, oneKey];
    const expected = `a number, since ${given} is given; both or neither`;
    return [{ path: [...path, lacking], value: undefined, expected }];
  });
}
