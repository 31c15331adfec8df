import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { StationId } from "../model/quantities.ts";
import type { WeatherStep } from "../model/weather.ts";
import { deltaTC, pressurePa } from "./air.ts";

/** A forecast step on the operation's own clock, with what follows from it. */
export interface AirStep extends WeatherStep {
  readonly startMin: number;
  readonly endMin: number;
  readonly deltaTC: number;
  /** As if the rain of a step under an hour went on for the hour; all the rain of a longer one. */
  readonly hourlyRainMm: number;
  readonly isRain: boolean;
}

export interface Station {
  readonly id: StationId;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** In order of time. They may leave gaps. */
  readonly steps: readonly AirStep[];
}

export function createStations(operation: Operation, calendar: Calendar): Station[] {
  const { altitudeM, limits } = operation.settings;
  const airPressurePa = pressurePa(altitudeM);
  const stepsOfStation = new Map<StationId, AirStep[]>();
  for (const step of operation.weather) {
    const startMin = calendar.minOfInstant(step.start);
    const hourlyRainMm = hourlyRain(step);
    const steps = stepsOfStation.get(step.stationId) ?? [];
    stepsOfStation.set(step.stationId, steps);
    steps.push({
      ...step,
      startMin,
      endMin: startMin + step.stepMin,
      deltaTC: deltaTC(step.temperatureC, step.humidityPct, airPressurePa),
      hourlyRainMm,
      isRain: hourlyRainMm >= limits.rainMm || step.rainProbabilityPct >= limits.rainProbabilityPct,
    });
  }
  return [...stepsOfStation].map(([id, steps]) => {
    steps.sort((a, b) => a.startMin - b.startMin);
    const { latDeg, lonDeg } = steps[0]!;
    return { id, latDeg, lonDeg, steps };
  });
}

/** Rain is given in decimals: 0.03 mm in 2 minutes are 0.9 mm an hour, without the noise of the quotient. */
const rainDecimals = 9;

function hourlyRain({ rainMm, stepMin }: WeatherStep): number {
  return stepMin >= minutesPerHour ? rainMm : Number(((rainMm * minutesPerHour) / stepMin).toFixed(rainDecimals));
}

/** The step that covers the minute, if any does. */
export function stepAt(station: Station, min: number): AirStep | undefined {
  let low = 0;
  let high = station.steps.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (station.steps[middle]!.startMin <= min) low = middle + 1;
    else high = middle;
  }
  const step = station.steps[low - 1];
  return step && min < step.endMin ? step : undefined;
}
