import { describe, expect, it } from "vitest";
import { type WeatherStep, weatherStepSchema } from "../../../shared/model/weather.ts";
import { weatherUpTo } from "../../../shared/replan/weatherUpTo.ts";

const step = (hour: number, stepMin: number, windKph: number, more: Partial<WeatherStep> = {}) =>
  weatherStepSchema.parse({
    stationId: "S-1",
    latDeg: 51,
    lonDeg: 11,
    start: `2027-06-07T${String(hour).padStart(2, "0")}:00:00Z`,
    stepMin,
    windKph,
    gustKph: windKph,
    windFromDeg: 270,
    temperatureC: 15,
    humidityPct: 60,
    rainMm: 0,
    rainProbabilityPct: 0,
    cloudPct: 20,
    ...more,
  });
const hours = (windKph: number, from = 0, to = 6, stepMin = 60) =>
  Array.from({ length: (60 * (to - from)) / stepMin }, (_, at) => step(from + (at * stepMin) / 60, stepMin, windKph));
const windOf = (steps: readonly WeatherStep[]) =>
  steps.map(({ start, windKph }) => `${start.slice(11, 13)}:${windKph}`);
const atMs = Date.parse("2027-06-07T02:30:00Z");

describe("the forecast when a plan is made again", () => {
  it("is the one told up to the hour that has begun, and the new one after it", () => {
    expect(windOf(weatherUpTo(hours(9), hours(5), atMs))).toEqual(["00:5", "01:5", "02:5", "03:9", "04:9", "05:9"]);
  });

  it("has no gap where the new one begins later, or in longer steps", () => {
    expect(windOf(weatherUpTo(hours(9, 4), hours(5), atMs))).toEqual(["00:5", "01:5", "02:5", "03:5", "04:9", "05:9"]);
    const threes = weatherUpTo(hours(9, 0, 6, 120), hours(5), atMs);
    expect(windOf(threes)).toEqual(["00:5", "01:5", "02:5", "03:5", "04:9"]);
  });

  it("is the new one alone for a station that was not there, or stood elsewhere", () => {
    const fresh = [step(0, 60, 9, { stationId: "S-2" as WeatherStep["stationId"] })];
    expect(weatherUpTo(fresh, hours(5), atMs)).toEqual(fresh);
    const moved = [step(0, 60, 9, { latDeg: 52 })];
    expect(weatherUpTo(moved, hours(5), atMs)).toEqual(moved);
  });
});
