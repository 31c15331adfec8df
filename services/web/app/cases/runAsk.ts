import type { CasesAsked } from "./calls.ts";
import type { Draft } from "./forms/draft.ts";

/** What the run form holds; numbers may be text that is still being typed. */
export interface RunWanted {
  readonly over: "week" | "season";
  readonly weeks: unknown;
  readonly seeds: unknown;
  /** Iterations of each search; null: as the set says. */
  readonly iterations: number | null;
}

const wholeOf = (value: unknown): number | null =>
  Number.isInteger(value) && Number(value) > 0 ? Number(value) : null;

/** What is sent: only what is said. */
export function casesAsked({ iterations, over, seeds, weeks }: RunWanted): CasesAsked {
  const [inWeeks, inSeeds] = [wholeOf(weeks), wholeOf(seeds)];
  return {
    ...(iterations === null ? {} : { iterations }),
    ...(inSeeds === null ? {} : { seeds: inSeeds }),
    ...(over === "season" && inWeeks !== null ? { weeks: inWeeks } : {}),
  };
}

/** How many plans that takes: the operation as it is, every case and every further point of the curve, in every week with every seed. Null while a number is missing. */
export function plansOf({ over, seeds, weeks }: RunWanted, file: Draft): number | null {
  const [inWeeks, inSeeds] = [over === "season" ? wholeOf(weeks) : 1, wholeOf(seeds)];
  if (inWeeks === null || inSeeds === null) return null;
  const curve = file.curve as { readonly fewer?: unknown; readonly upTo?: unknown } | undefined;
  const points = curve === undefined ? 0 : Number(curve.fewer ?? 0) + Number(curve.upTo ?? 0);
  const cases = Array.isArray(file.cases) ? file.cases.length : 0;
  const plans = (1 + cases + points) * inWeeks * inSeeds;
  return Number.isFinite(plans) ? plans : null;
}
