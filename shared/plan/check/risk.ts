import { minutesPerHour } from "../../model/calendar.ts";
import type { Facts } from "./facts.ts";

/** What working in hours that the forecast may miss costs: hectares, by the mean of what trust lacks over the minutes from first to last. */
export function riskOf({ operation, calendar, stops }: Facts): number {
  const { limits, forecastIssued, planning } = operation.settings;
  const issuedMin = forecastIssued === undefined ? 0 : calendar.minOfLocal(forecastIssued);
  /** Minutes of a work with one trust lie together: from where the step before ends up to where this one does. */
  const doubtMin = (startMin: number, endMin: number) => {
    let sum = 0;
    let fromMin = Number.NEGATIVE_INFINITY;
    limits.confidence.forEach(({ untilLeadHours, frac }, row) => {
      const isLast = row === limits.confidence.length - 1;
      const untilMin = isLast ? Number.POSITIVE_INFINITY : issuedMin + untilLeadHours * minutesPerHour;
      // A minute belongs to the first step in which it ends.
      const within = Math.min(endMin, Math.floor(untilMin)) - Math.max(startMin, fromMin);
      if (within > 0) sum += within * (1 - frac);
      fromMin = Math.floor(untilMin);
    });
    return sum;
  };
  return stops.reduce((sum, { work: { startMin, endMin }, block }) => {
    const meanDoubt = endMin > startMin ? doubtMin(startMin, endMin) / (endMin - startMin) : 0;
    return sum + planning.riskCentsPerHa * block.areaHa * meanDoubt;
  }, 0);
}
