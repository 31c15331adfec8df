import { describe, expect, it } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import { createHistory } from "../../../shared/season/history.ts";
import { layWeather } from "../../../shared/season/layWeather.ts";
import { plainStep } from "../../support/dailyWeather.ts";

/** One whole local day of steps, told apart by their temperature: the hour of the day at which each begins. */
function history(stepMin: number) {
  const steps = Array.from({ length: 1440 / stepMin }, (_, at) => ({
    ...plainStep(
      new Date(Date.parse("2026-06-30T22:00:00Z") + at * stepMin * 60_000).toISOString().replace(".000Z", "Z"),
      stepMin,
    ),
    temperatureC: (at * stepMin) / 60,
    rainMm: 0.4,
  }));
  return createHistory(
    [...steps, ...steps.map((step) => ({ ...step, stationId: "T" as typeof step.stationId }))],
    "Europe/Madrid",
  );
}

function layOn(date: string, stepMin: number): WeatherStep[] {
  const calendar = createCalendar({ timeZone: "Europe/Madrid", firstDay: date, days: 1 });
  return layWeather(history(stepMin), [{ date, day: 0, beginsRun: true }], calendar);
}

/** Local hour and length of the first station's steps, with the hour at which each was measured. */
function laid(date: string, stepMin: number): [start: string, stepMin: number, measuredHour: number][] {
  const calendar = createCalendar({ timeZone: "Europe/Madrid", firstDay: date, days: 1 });
  const steps = layOn(date, stepMin).filter(({ stationId }) => stationId === "S");
  let endMin = 0;
  for (const step of steps) {
    // Steps follow each other from midnight to midnight, whatever the clocks do.
    expect(calendar.minOfInstant(step.start)).toBe(endMin);
    endMin += step.stepMin;
  }
  expect(endMin).toBe(calendar.horizonMin);
  return steps.map((step) => [calendar.clockOfMin(calendar.minOfInstant(step.start)), step.stepMin, step.temperatureC]);
}

describe("weather on another date", () => {
  it("has every step at its own time of day, and else as it was measured", () => {
    const source = history(60).days[0]!.steps;
    const steps = layOn("2027-02-03", 60);
    expect(steps).toHaveLength(48);
    for (const [at, step] of steps.entries()) {
      const { start, ...rest } = step;
      const { start: _, ...measured } = source[at]!.step;
      expect(rest).toEqual(measured);
      expect(start).toBe(`2027-02-03T${String(at % 24).padStart(2, "0")}:00:00+01:00`);
    }
  });

  // Regulation: Directive 2000/84/EC: at 01:00 UTC on the last Sundays of March and October; in Madrid 02:00 becomes 03:00, and 03:00 becomes 02:00.
  it("skips what was measured in the hour that the clocks skip", () => {
    expect(laid("2027-03-28", 60).slice(0, 5)).toEqual([
      ["00:00", 60, 0],
      ["01:00", 60, 1],
      ["03:00", 60, 3],
      ["04:00", 60, 4],
      ["05:00", 60, 5],
    ]);
    expect(laid("2027-03-28", 60)).toHaveLength(23);
  });

  it("has the hour that the clocks show twice twice", () => {
    expect(laid("2027-10-31", 60).slice(0, 6)).toEqual([
      ["00:00", 60, 0],
      ["01:00", 60, 1],
      ["02:00", 60, 2],
      ["02:00", 60, 2],
      ["03:00", 60, 3],
      ["04:00", 60, 4],
    ]);
    expect(laid("2027-10-31", 60)).toHaveLength(25);
  });

  it("does so with quarters of an hour", () => {
    const autumn = laid("2027-10-31", 15);
    expect(autumn).toHaveLength(100);
    expect(autumn.slice(7, 17).map(([start, , hour]) => [start, hour])).toEqual([
      ["01:45", 1.75],
      ["02:00", 2],
      ["02:15", 2.25],
      ["02:30", 2.5],
      ["02:45", 2.75],
      ["02:00", 2],
      ["02:15", 2.25],
      ["02:30", 2.5],
      ["02:45", 2.75],
      ["03:00", 3],
    ]);
    expect(laid("2027-03-28", 15)).toHaveLength(92);
  });

  it("lets longer steps last an hour less or more", () => {
    expect(laid("2027-03-28", 180).slice(0, 2)).toEqual([
      ["00:00", 120, 0],
      ["03:00", 180, 3],
    ]);
    expect(laid("2027-10-31", 180).slice(0, 2)).toEqual([
      ["00:00", 240, 0],
      ["03:00", 180, 3],
    ]);
    expect(laid("2027-10-31", 1440)).toEqual([["00:00", 1500, 0]]);
    expect(laid("2027-03-28", 1440)).toEqual([["00:00", 1380, 0]]);
  });
});
