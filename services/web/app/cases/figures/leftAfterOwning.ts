import type { CurveOutcome } from "../../../../../shared/cases/comparison.ts";

/** Margin less what all beyond the first number cost to own, cents a year. Where it is highest is the number to have. */
export function leftAfterOwning(points: CurveOutcome["points"]): (number | null)[] {
  let owning: number | null = 0;
  return points.map(({ marginCentsPerYear, next }, at) => {
    if (at > 0) owning = owning === null || next === null ? null : owning + next.ownershipCentsPerYear;
    return marginCentsPerYear === null || owning === null ? null : marginCentsPerYear - owning;
  });
}
