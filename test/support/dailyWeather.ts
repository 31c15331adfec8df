import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { StationId } from "../../shared/model/quantities.ts";
import type { WeatherStep } from "../../shared/model/weather.ts";

const file = join(import.meta.dirname, "../data/weather/seattle-daily.csv");

export interface MeasuredDay {
  readonly date: string;
  readonly rainMm: number;
  readonly temperatureC: number;
  readonly windKph: number;
}

/** Every day of 2012 to 2015 as measured at Seattle (test/data/weather/README.md). */
export function seattleDays(): MeasuredDay[] {
  const [, ...rows] = readFileSync(file, "utf8").trim().split("\n");
  return rows.map((row) => {
    const [date, rainMm, greatestC, leastC, windMps] = row.split(",");
    return {
      date: date!,
      rainMm: Number(rainMm),
      temperatureC: (Number(greatestC) + Number(leastC)) / 2,
      windKph: Number(windMps) * 3.6,
    };
  });
}

/** The same in steps of a whole day of UTC. What was not measured there stands still. */
export function seattleSteps(): WeatherStep[] {
  return seattleDays().map(({ date, rainMm, temperatureC, windKph }) => ({
    ...plainStep(`${date}T00:00:00Z`, 1440),
    rainMm,
    temperatureC,
    windKph,
    gustKph: windKph,
  }));
}

/** A step of fair weather at a station of its own. */
export function plainStep(start: string, stepMin: number, stationId = "S"): WeatherStep {
  return {
    stationId: stationId as StationId,
    latDeg: 51,
    lonDeg: 11,
    start,
    stepMin,
    windKph: 8,
    gustKph: 12,
    windFromDeg: 270,
    windHeightM: 10,
    temperatureC: 18,
    temperatureHeightM: 2,
    humidityPct: 60,
    rainMm: 0,
    rainProbabilityPct: 0,
    cloudPct: 50,
  };
}
