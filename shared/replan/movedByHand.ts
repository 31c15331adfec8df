import type { PlanDifference } from "./difference.ts";

const sentence = "Nothing stands against what was planned before; since then stops have been moved by hand.";

/** Of a plan that a person has moved nobody can say that it is otherwise because it costs less so. */
export function movedByHand(difference: PlanDifference): PlanDifference {
  const told = <Change extends PlanDifference["outfits"][number] | PlanDifference["changes"][number]>(
    change: Change,
  ) => (change.reason === "saves" ? { ...change, reason: "byHand" as const, sentence } : change);
  return { ...difference, changes: difference.changes.map(told), outfits: difference.outfits.map(told) };
}
