import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";

/** A figure of two plans. Hectares still to be done, the better the more; all else the better the less. */
export interface PlanFigure {
  readonly of: "areaHa" | "roadKm" | "costCents";
  readonly was: number;
  readonly now: number;
}

/** What two plans come to on the days that both have. Costs are without what changes are charged, and told only where they are of the same days. */
export function planFigures({
  before,
  changes,
  now,
  sameDays,
}: Pick<DifferenceAnswer, "before" | "changes" | "now" | "sameDays">): readonly PlanFigure[] {
  // What is done is in the earlier plan only, and no loss.
  const doneHa = changes.reduce((sum, { areaHa, kind }) => (kind === "done" ? sum + areaHa : sum), 0);
  const figures: PlanFigure[] = [
    { of: "areaHa", was: before.servedHa - doneHa, now: now.servedHa },
    { of: "roadKm", was: before.roadKm, now: now.roadKm },
  ];
  if (sameDays) {
    figures.push({
      of: "costCents",
      was: before.totalCents - before.changeCents,
      now: now.totalCents - now.changeCents,
    });
  }
  return figures;
}

/** The difference of two figures as they are shown, in whole steps: whoever subtracts finds no other. */
export const shownDifference = (now: number, was: number, step: number): number =>
  (Math.round(now / step) - Math.round(was / step)) * step;
