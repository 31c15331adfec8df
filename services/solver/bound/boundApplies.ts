import type { Problem } from "../problem.ts";

/** Null where no plan can cost less than the bound; else, in plain words, what it does not cover, because with it a plan could cost less: then nothing may be claimed. */
export function boundApplies({ crews }: Pick<Problem, "crews">): string | null {
  if (crews.some(({ mixedOutfit }) => mixedOutfit === true))
    return "crews that take out aircraft of several types at once";
  if (crews.some(({ overnightBaseIds }) => (overnightBaseIds?.length ?? 0) > 0))
    return "crews that sleep away from their base";
  return null;
}
