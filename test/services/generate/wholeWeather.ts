import { expect } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";

const measuredMin = 24 * 60;

/** Hourly steps without a gap from a day before the first midnight to so many hours beyond the last day, for every station. */
export function expectWholeWeather({ settings, weather }: Operation, hoursBeyond: number): void {
  const calendar = createCalendar(settings);
  for (const station of new Set(weather.map(({ stationId }) => stationId))) {
    const steps = weather.filter(({ stationId }) => stationId === station);
    steps.forEach(({ start, stepMin, gustKph, windKph, rainMm, cloudPct }, index) => {
      expect(calendar.minOfInstant(start)).toBe(index * stepMin - measuredMin);
      expect(gustKph).toBeGreaterThanOrEqual(windKph);
      if (rainMm > 0) expect(cloudPct).toBeGreaterThan(30);
    });
    expect(steps.length * 60).toBe(measuredMin + calendar.horizonMin + hoursBeyond * 60);
  }
}
