import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import type { Settings } from "../model/settings.ts";

/** How far the forecast of a minute is trusted, by how long before its end the forecast was issued. */
export function createConfidence({ forecastIssued, limits }: Settings, calendar: Calendar): (min: number) => number {
  const issuedMin = forecastIssued === undefined ? 0 : calendar.minOfLocal(forecastIssued);
  const { confidence } = limits;
  return (min) => {
    const leadMin = min + 1 - issuedMin;
    const row = confidence.find(({ untilLeadHours }) => leadMin <= untilLeadHours * minutesPerHour);
    return (row ?? confidence[confidence.length - 1]!).frac;
  };
}
