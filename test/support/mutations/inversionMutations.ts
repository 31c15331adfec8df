import type { Product } from "../../../shared/model/product.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import { coverOf, type Draft, type Mutation, minuteOf, mutation, pick, stepsAt, stopsOf, sunOver } from "./mutation.ts";
import { onWeather } from "./weatherMutations.ts";

/** Other weather at a minute of a work in the night, after something in the same night; that answers false when it is not there. */
function inversionMutation(
  name: string,
  weather: Partial<WeatherStep>,
  rule: Product["inversionRule"],
  earlierInTheNight: (draft: Draft, min: number, now: readonly WeatherStep[]) => boolean,
): Mutation {
  return mutation("inversion", name, (draft) => {
    const minutes = stopsOf(draft).flatMap((stop) => {
      const min = minuteOf(draft, stop);
      const sun = sunOver(draft, stop, draft.calendar.dateOfMin(min));
      return sun !== null && (min < sun.upMin + 58 || min > sun.downMin - 88) ? [{ stop, min }] : [];
    });
    const found = pick(draft, minutes);
    if (found === undefined) return false;
    // Two hours before lie in the same hours.
    draft.operation.settings.limits.inversionHours = { startBeforeSunsetMin: 240, endAfterSunriseMin: 60 };
    pick(draft, found.stop.products)!.inversionRule = rule;
    const now = stepsAt(draft, found.min);
    for (const step of now) {
      Object.assign(step, weather, { rainMm: 0, rainProbabilityPct: 0 });
      delete step.upperTemperatureC;
    }
    return earlierInTheNight(draft, found.min, now);
  });
}

/** Nothing has been blown through since. */
function stillBefore(draft: Draft, min: number, now: readonly WeatherStep[]): boolean {
  const before = stepsAt(draft, min - 120).filter((step) => !now.includes(step));
  for (const step of before) step.windKph = 4;
  return before.length > 0;
}

function windyAlways({ operation }: Draft): void {
  for (const step of operation.weather) step.windKph = 13;
}

function gapBefore(draft: Draft, min: number, now: readonly WeatherStep[]): boolean {
  windyAlways(draft);
  const gone = stepsAt(draft, min - 120).filter((step) => !now.includes(step));
  draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
  return gone.length > 0;
}

function nothingBefore(draft: Draft, min: number, now: readonly WeatherStep[]): boolean {
  windyAlways(draft);
  const { weather } = draft.operation;
  draft.operation.weather = weather.filter((step) => now.includes(step) || coverOf(draft, step).fromMin > min - 120);
  return draft.operation.weather.length < weather.length;
}

/** Two thermometers, at 2 and 10 m, at whatever hour: air that cools by 0.0784 °C between them is well mixed. */
function measuredInversion(name: string, upperTemperatureC: number, rule: Product["inversionRule"]): Mutation {
  const weather = { temperatureC: 15, temperatureHeightM: 2, upperTemperatureC, upperTemperatureHeightM: 10 };
  return onWeather("inversion", name, { ...weather, cloudPct: 100, windKph: 20, rainMm: 1 }, (product) => {
    product.inversionRule = rule;
  });
}

const clearInTheWind = { cloudPct: 20, windKph: 13 };

export const inversionMutations: readonly Mutation[] = [
  inversionMutation("an inversion is likely", { cloudPct: 20, windKph: 6 }, "notWhenLikely", stillBefore),
  inversionMutation("an inversion is possible in the wind", clearInTheWind, "notWhenPossible", stillBefore),
  inversionMutation(
    "an inversion is possible under cloud",
    { cloudPct: 95, windKph: 6 },
    "notWhenPossible",
    stillBefore,
  ),
  inversionMutation(
    "wind all night, but for an hour of which nobody knows",
    clearInTheWind,
    "notWhenPossible",
    gapBefore,
  ),
  inversionMutation(
    "wind, but nobody knows of the beginning of the night",
    clearInTheWind,
    "notWhenPossible",
    nothingBefore,
  ),
  measuredInversion("warmer above than below", 15.1, "notWhenLikely"),
  measuredInversion("cooler above, but not by as much as mixed air", 14.93, "notWhenPossible"),
];
