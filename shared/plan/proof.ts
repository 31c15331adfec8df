import type { Proof } from "./plan.ts";
import { moneyWords } from "./words.ts";

/** A bound on the cost of every plan, whichever is at hand. */
export type ProvenBound = Omit<Proof, "gapFrac">;

/** By how much of the bound a plan costs more. */
export function gapFracOf(boundCents: number, totalCents: number): number {
  return Math.max(0, totalCents / boundCents - 1);
}

/** Null when the bound says nothing, or when the plan itself shows that it is wrong. */
export function proofOf(bound: ProvenBound, totalCents: number): Proof | null {
  const { boundCents } = bound;
  if (boundCents <= 0 || boundCents > totalCents) return null;
  return { ...bound, gapFrac: gapFracOf(boundCents, totalCents) };
}

/** A line for people. */
export function proofWords(proof: Proof | undefined, currency: string): string {
  if (proof === undefined) return "Nothing is proven about how much cheaper another plan for this week could be.";
  const { boundCents, gapFrac, finished } = proof;
  const least = `No plan for this week can cost less than ${moneyWords(boundCents)} ${currency}`;
  const percent = gapPercent(gapFrac);
  const more = finished || percent === "0.0" ? "" : " Longer planning may narrow this.";
  return percent === "0.0"
    ? `${least}, and this one costs no more.`
    : `${least}: this one is at most ${percent} % above that.${more}`;
}

/** How far the best plan of a search is so far. */
export function gapWords(gapFrac: number): string {
  return `at most ${gapPercent(gapFrac)} % above the least possible cost`;
}

/** Rounded up, because it is said to be the most. */
export function gapPercent(gapFrac: number): string {
  return (Math.ceil(gapFrac * 1000 - 1e-9) / 10).toFixed(1);
}
