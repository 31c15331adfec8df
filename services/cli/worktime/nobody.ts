import type { Operation } from "../../../shared/model/operation.ts";
import type { KitOption, ProblemOrder } from "../../solver/problem.ts";

/** What a crew's people may fly, and what its base has of it. */
export interface CrewOutfits {
  readonly options: readonly KitOption[];
  readonly isQualified: (option: number, licence: number) => boolean;
  /** By option: the outfits that the base can send. */
  readonly outfits: readonly (readonly number[])[];
}

/**
 * Why no crew can be sent to an order with any outfit; `capable`: by type, what label and ground let fly it. Undefined where one can, or
 * where every outfit that could be sent is told why it cannot.
 */
export function nobodyWords(
  { fleet }: Operation,
  crews: readonly CrewOutfits[],
  { licence }: ProblemOrder,
  capable: readonly boolean[],
  classes: readonly string[],
): string | undefined {
  const everyOption = crews.flatMap(({ options, isQualified, outfits }) =>
    options.map(({ type }, option) => ({
      type,
      isQualified: isQualified(option, licence),
      hasOutfit: outfits[option]!.length > 0,
    })),
  );
  if (everyOption.length === 0) return "nobody is rated for an aircraft of the own base";
  const able = everyOption.filter(({ type }) => capable[type]);
  const options = able.length > 0 ? able : everyOption;
  const qualified = options.filter(({ isQualified }) => isQualified);
  if (qualified.some(({ hasOutfit }) => hasOutfit)) return undefined;
  const namesOf = (list: readonly { readonly type: number }[]) => {
    const names = fleet.aircraftTypes
      .filter((_, index) => list.some(({ type }) => type === index))
      .map(({ name }) => name);
    return [names.slice(0, -1).join(", "), ...names.slice(-1)].filter((name) => name !== "").join(" or ");
  };
  if (qualified.length === 0) {
    return `nobody who flies ${namesOf(options)} from a base that has one holds licence ${classes.join(" and ")}`;
  }
  return `no base of people licensed for it has a tender with places for ${namesOf(qualified)} and battery sets for it`;
}
