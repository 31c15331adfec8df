import type { Product } from "../../../shared/model/product.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import type { RuleName } from "../../../shared/plan/check/report.ts";
import { type Draft, type DraftStop, type Mutation, minuteOf, onStop, pick, stepsAt } from "./mutation.ts";

/** Other weather at a minute of a work, against a limit of one of its products. */
export function onWeather(
  rule: RuleName,
  name: string,
  weather: Partial<WeatherStep>,
  limit: (product: Product, draft: Draft, stop: DraftStop) => void,
): Mutation {
  return onStop(rule, name, (draft, stop) => {
    for (const step of stepsAt(draft, minuteOf(draft, stop))) Object.assign(step, weather);
    limit(pick(draft, stop.products)!, draft, stop);
    return true;
  });
}

/** The same with the wind's limits holding as measured. */
function onMeasuredWind(
  rule: RuleName,
  name: string,
  windKph: number,
  limit: Parameters<typeof onWeather>[3],
): Mutation {
  return onWeather(rule, name, { windKph }, (product, draft, stop) => {
    draft.operation.settings.limits.windAt = "asMeasured";
    limit(product, draft, stop);
  });
}

/** The same with the limits holding where the aircraft of the work release, at the height. */
function onReleasedWind(
  rule: RuleName,
  name: string,
  weather: Partial<WeatherStep>,
  releaseHeightM: number,
  limit: (product: Product) => void,
): Mutation {
  return onWeather(rule, name, weather, (product, draft, stop) => {
    draft.operation.settings.limits.windAt = "releaseHeight";
    for (const type of stop.types) type.releaseHeightM = releaseHeightM;
    limit(product);
  });
}

export const weatherMutations: readonly Mutation[] = [
  onMeasuredWind("windLow", "wind under the label's least", 2, (product) => {
    product.windMinKph = 2.1;
  }),
  onMeasuredWind("wind", "wind over the label's most", 15.1, (product) => {
    product.windMaxKph = 15;
  }),
  onMeasuredWind("wind", "wind over an aircraft's most", 21, (_, draft, stop) => {
    pick(draft, stop.types)!.windMaxKph = 20;
  }),
  onMeasuredWind("wind", "wind over the operation's most", 13, (_, draft) => {
    draft.operation.settings.limits.windMaxKph = 12;
  }),
  onWeather("gust", "gusts over the label's most", { gustKph: 25.5 }, (product) => {
    product.gustMaxKph = 25;
  }),
  onWeather("gust", "gusts over an aircraft's most", { gustKph: 41 }, (_, draft, stop) => {
    pick(draft, stop.types)!.gustMaxKph = 40;
  }),
  onWeather("gust", "gusts over the operation's most", { gustKph: 31 }, (_, draft) => {
    draft.operation.settings.limits.gustMaxKph = 30;
  }),
  // Delta T of 30 °C and 30 % is 12.03 (psychrolib 1.1.1 at 101325 Pa), of saturated air it is 0.
  onWeather("deltaT", "air too dry", { temperatureC: 30, humidityPct: 30 }, (product) => {
    product.deltaTMaxC = 11.5;
  }),
  onWeather("deltaT", "air too moist", { humidityPct: 100 }, (product) => {
    product.deltaTMinC = 0.5;
  }),
  onWeather("temperature", "too hot", { temperatureC: 30.5 }, (product) => {
    product.temperatureMaxC = 30;
  }),
  onWeather("temperature", "too cold", { temperatureC: 4.5 }, (product) => {
    product.temperatureMinC = 5;
  }),
  // Ten metres to two: 4.87 / ln(67.8 x 10 - 5.42) = 0.748 (FAO Irrigation and Drainage Paper 56, example 14).
  onReleasedWind(
    "wind",
    "wind over the label's most, measured higher up",
    { windKph: 20, windHeightM: 10 },
    2,
    (product) => {
      product.windMaxKph = 14.9;
    },
  ),
  onReleasedWind(
    "wind",
    "wind over the label's most, measured lower down",
    { windKph: 12, windHeightM: 2 },
    10,
    (product) => {
      product.windMaxKph = 16;
    },
  ),
  onReleasedWind(
    "windLow",
    "wind under the label's least, measured higher up",
    { windKph: 20, windHeightM: 10 },
    2,
    (product) => {
      product.windMinKph = 15;
    },
  ),
  onWeather("humidity", "relative humidity under the label's least", { humidityPct: 39 }, (product) => {
    product.humidityMinPct = 40;
  }),
  onWeather("humidity", "relative humidity over the label's most", { humidityPct: 86 }, (product) => {
    product.humidityMaxPct = 85;
  }),
];
