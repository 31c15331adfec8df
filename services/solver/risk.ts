import { createConfidence } from "../../shared/agronomy/confidence.ts";
import type { Calendar } from "../../shared/model/calendar.ts";
import type { Settings } from "../../shared/model/settings.ts";

/** What work costs in hours that the forecast may miss. */
export interface Risk {
  readonly centsPerHa: number;
  /** doubtBefore[min]: what trust lacks, summed over the minutes up to this one. */
  readonly doubtBefore: Float64Array;
}

/** Null where it costs nothing. */
export function compileRisk(settings: Settings, calendar: Calendar): Risk | null {
  const { riskCentsPerHa } = settings.planning;
  if (riskCentsPerHa === 0) return null;
  const confidenceOf = createConfidence(settings, calendar);
  // A shift that begins on the last day ends within a day after it.
  const doubtBefore = new Float64Array(calendar.horizonMin + 2 * 24 * 60);
  for (let min = 1; min < doubtBefore.length; min++)
    doubtBefore[min] = doubtBefore[min - 1]! + 1 - confidenceOf(min - 1);
  return { centsPerHa: riskCentsPerHa, doubtBefore };
}

/** By the mean over the minutes from a work's first to its last. */
export function riskCents({ centsPerHa, doubtBefore }: Risk, areaHa: number, startMin: number, endMin: number): number {
  return (centsPerHa * areaHa * (doubtBefore[endMin]! - doubtBefore[startMin]!)) / (endMin - startMin);
}
