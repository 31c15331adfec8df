import type { Crew } from "../../../shared/model/fleet.ts";
import type { Problem } from "../problem.ts";

/** What crews may be free to do that the relaxation does not allow: with it a plan could cost less than the bound. */
interface Freedoms {
  readonly mixedOutfit?: boolean | undefined;
  readonly overnightBaseIds?: readonly string[] | undefined;
}

/** Null where no plan can cost less than the bound; else, in plain words, what it does not cover, and then nothing may be claimed. */
export function boundApplies({ crews }: Pick<Problem, "crews">): string | null {
  const free: readonly (Crew & Freedoms)[] = crews;
  if (free.some(({ mixedOutfit }) => mixedOutfit === true))
    return "crews that take out aircraft of several types at once";
  if (free.some(({ overnightBaseIds }) => overnightBaseIds !== undefined && overnightBaseIds.length > 0))
    return "crews that sleep away from their base";
  return null;
}
