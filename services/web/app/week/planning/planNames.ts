import type { ListedPlan, Publication } from "../../../../../shared/contracts/plans.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { momentWords } from "./times.ts";

/** The publication by which crews were told a plan; the last, should it have been told more than once. */
export function publicationOf(planId: string, publications: readonly Publication[]): Publication | null {
  return publications.reduce<Publication | null>(
    (last, one) => (one.planId === planId && one.number > (last?.number ?? 0) ? one : last),
    null,
  );
}

/** What a plan is, in a sentence: a draft and how it was made, or what crews have been told. */
export function planSentence(
  { createdAt, origin, state }: ListedPlan,
  publication: Publication | null,
  timeZone: string | undefined,
): string {
  if (state === "draft") return words.draftSentence(words.origins[origin], momentWords(createdAt, timeZone));
  if (publication === null) return `${words.states[state]}.`;
  const sentence = state === "published" ? words.publishedSentence : words.supersededSentence;
  return sentence(publication.number);
}

/** A plan as one of a list to choose from. */
export function planOption(
  { createdAt, origin, state, totals }: ListedPlan,
  timeZone: string | undefined,
  areaWords: (areaHa: number) => string,
): string {
  const what = state === "draft" ? `${words.states.draft} ${words.origins[origin]}` : words.states[state];
  return words.option(what, momentWords(createdAt, timeZone), areaWords(totals.servedHa));
}

/** The list with the plan that is shown, should it be too old for it. */
export function withShown(plans: readonly ListedPlan[], shown: ListedPlan | null): readonly ListedPlan[] {
  if (shown === null || plans.some(({ id }) => id === shown.id)) return plans;
  return [...plans, shown];
}
