import { deltaTC, pressurePa } from "../../agronomy/air.ts";
import { type SunDay, sunDay } from "../../agronomy/sun.ts";
import { greatCircleKm } from "../../geo/distance.ts";
import type { LonLat } from "../../geo/plane.ts";
import { minutesPerHour } from "../../model/calendar.ts";
import type { WeatherStep } from "../../model/weather.ts";
import type { Facts, Mix } from "./facts.ts";
import type { Span } from "./spans.ts";
import type { Terrain } from "./terrain.ts";

export interface Step extends Span {
  readonly step: WeatherStep;
  readonly isRain: boolean;
  /** Worked out when first asked for: most steps of a week are never worked in. */
  deltaTC(): number;
}

/** The sun over a field and the weather of its station. */
export interface Sky {
  sun(mix: Mix, date: string): SunDay;
  /** Steps of the station nearest to the field, in order of time. */
  steps(mix: Mix): readonly Step[];
}

export function createSky(facts: Facts, terrain: Terrain): Sky {
  const { calendar, operation } = facts;
  const { limits, altitudeM } = operation.settings;
  const airPressurePa = pressurePa(altitudeM);
  const sunDays = new Map<string, SunDay>();
  const stations = new Map<string, { at: LonLat; steps: Step[] }>();
  for (const step of operation.weather) {
    const station = stations.get(step.stationId) ?? { at: [step.lonDeg, step.latDeg], steps: [] };
    stations.set(step.stationId, station);
    const fromMin = calendar.minOfInstant(step.start);
    station.steps.push({
      step,
      fromMin,
      toMin: fromMin + step.stepMin,
      isRain: countedRainMm(step) >= limits.rainMm || step.rainProbabilityPct >= limits.rainProbabilityPct,
      deltaTC: once(() => deltaTC(step.temperatureC, step.humidityPct, airPressurePa)),
    });
  }
  for (const { steps } of stations.values()) steps.sort((a, b) => a.fromMin - b.fromMin);

  return {
    sun: (mix, date) => {
      const key = `${mix.field.properties.id} ${date}`;
      const known = sunDays.get(key);
      if (known !== undefined) return known;
      const [lonDeg, latDeg] = terrain.field(mix).centroidLonLat;
      const day = sunDay(calendar, date, latDeg, lonDeg);
      sunDays.set(key, day);
      return day;
    },
    steps: (mix) => {
      const here = terrain.field(mix).centroidLonLat;
      let nearest: { km: number; steps: readonly Step[] } = { km: Number.POSITIVE_INFINITY, steps: [] };
      for (const { at, steps } of stations.values()) {
        const km = greatCircleKm(here, at);
        if (km < nearest.km) nearest = { km, steps };
      }
      return nearest.steps;
    },
  };
}

/** Rain against the limit of an hour: a shorter step as if it went on for the hour, a longer one by all its rain. */
function countedRainMm({ rainMm, stepMin }: WeatherStep): number {
  return rainMm * Math.max(1, minutesPerHour / stepMin);
}

function once(compute: () => number): () => number {
  let known: number | undefined;
  return () => {
    known ??= compute();
    return known;
  };
}
