import { createPlane, type LonLat } from "../../../shared/geo/plane.ts";
import type { Buffer, Product } from "../../../shared/model/product.ts";
import type { SensitiveId } from "../../../shared/model/quantities.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import type { RuleName } from "../../../shared/plan/check/report.ts";
import {
  centreOf,
  type Draft,
  type DraftStop,
  type Mutation,
  minuteOf,
  mutation,
  onStop,
  pick,
  pickInt,
  stepsAt,
  stopsOf,
  sunOver,
} from "./mutation.ts";

/** Other weather at a minute of a work, against a limit of one of its products. */
function onWeather(
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

function inversionMutation(name: string, weather: Partial<WeatherStep>, rule: Product["inversionRule"]): Mutation {
  return mutation("inversion", name, (draft) => {
    const minutes = stopsOf(draft).flatMap((stop) => {
      const min = minuteOf(draft, stop);
      const sun = sunOver(draft, stop, draft.calendar.dateOfMin(min));
      return sun !== null && (min < sun.upMin + 58 || min > sun.downMin - 88) ? [{ stop, min }] : [];
    });
    const found = pick(draft, minutes);
    if (found === undefined) return false;
    draft.operation.settings.limits.inversionHours = { startBeforeSunsetMin: 240, endAfterSunriseMin: 60 };
    pick(draft, found.stop.products)!.inversionRule = rule;
    // Still two hours before, which those hours hold as well: nothing has been blown through since.
    const now = stepsAt(draft, found.min);
    const before = stepsAt(draft, found.min - 120).filter((step) => !now.includes(step));
    if (before.length === 0) return false;
    for (const step of before) step.windKph = 4;
    for (const step of now) {
      Object.assign(step, weather, { rainMm: 0, rainProbabilityPct: 0 });
      delete step.upperTemperatureC;
    }
    return true;
  });
}

/** Two thermometers, at 2 and 10 m, at whatever hour: air that cools by 0.0784 °C between them is well mixed. */
function measuredInversion(name: string, upperTemperatureC: number, rule: Product["inversionRule"]): Mutation {
  const weather = { temperatureC: 15, temperatureHeightM: 2, upperTemperatureC, upperTemperatureHeightM: 10 };
  return onWeather("inversion", name, { ...weather, cloudPct: 100, windKph: 20, rainMm: 1 }, (product) => {
    product.inversionRule = rule;
  });
}

type DownwindBuffer = Pick<Buffer, "distanceM" | "downwindRule">;

/** A place downwind of the field, some way outside of the wind's middle, with a buffer of one of the order's labels. */
function placeDownwind(draft: Draft, stop: DraftStop, buffer: DownwindBuffer): void {
  placeInWind(draft, stop, centreOf(draft, stop), 2000, buffer);
}

/** The same, as far from a point of the field. */
function placeInWind(draft: Draft, stop: DraftStop, from: LonLat, awayM: number, buffer: DownwindBuffer): void {
  const [lonDeg, latDeg] = from;
  const towardsDeg = pickInt(draft, 0, 359);
  const offDeg = pickInt(draft, -40, 40);
  const towardsRad = (towardsDeg * Math.PI) / 180;
  const coordinates = createPlane(lonDeg, latDeg).toPosition([
    awayM * Math.sin(towardsRad),
    awayM * Math.cos(towardsRad),
  ]);
  draft.operation.sensitive.features.push({
    type: "Feature",
    geometry: { type: "Point", coordinates },
    properties: { id: "DOWNWIND" as SensitiveId, kind: "apiary", name: "Hives", radiusM: 0 },
  });
  pick(draft, stop.products)!.buffers.push({ kind: "apiary", downwindOnly: true, ...buffer });
  draft.operation.settings.limits.driftAngleDeg = 45;
  for (const step of stepsAt(draft, minuteOf(draft, stop))) step.windFromDeg = (towardsDeg + offDeg + 180 + 360) % 360;
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
  onWeather("rain", "it rains", { rainMm: 0.1 }, (_, draft) => {
    draft.operation.settings.limits.rainMm = 0.1;
  }),
  onWeather("rain", "rain is likely", { rainProbabilityPct: 50 }, (_, draft) => {
    draft.operation.settings.limits.rainProbabilityPct = 50;
  }),
  onStop("rainfast", "it rains before the spray has dried", (draft, stop) => {
    const hours = pickInt(draft, 1, 5);
    pick(draft, stop.products)!.rainfastHours = hours;
    const wet = stepsAt(draft, stop.work.endMin + pickInt(draft, 0, hours * 60 - 1));
    for (const step of wet) step.rainMm = 3;
    return wet.length > 0;
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
  onStop("wet", "it has rained too much before", (draft, { work, order }) => {
    const hours = pickInt(draft, 1, 24);
    Object.assign(order, { waitAfterRainMm: 4, waitAfterRainHours: hours });
    const steps = stepsAt(draft, work.startMin - pickInt(draft, 0, hours * 60));
    for (const step of steps) step.rainMm = 4;
    return steps.length > 0;
  }),
  onStop("wet", "a little rain again and again", (draft, { work, order }) => {
    Object.assign(order, { waitAfterRainMm: 1, waitAfterRainHours: 3 });
    const times = [0, 60, 120, 180].map((backMin) => work.startMin - backMin);
    const steps = new Set(times.flatMap((min) => stepsAt(draft, min)));
    for (const step of steps) step.rainMm = Math.min(0.25, step.stepMin / 60 / 4);
    return times.every((min) => stepsAt(draft, min).length > 0) && [...steps].every((step) => step.stepMin <= 60);
  }),
  inversionMutation("an inversion is likely", { cloudPct: 20, windKph: 6 }, "notWhenLikely"),
  inversionMutation("an inversion is possible in the wind", { cloudPct: 20, windKph: 13 }, "notWhenPossible"),
  inversionMutation("an inversion is possible under cloud", { cloudPct: 95, windKph: 6 }, "notWhenPossible"),
  measuredInversion("warmer above than below", 15.1, "notWhenLikely"),
  measuredInversion("cooler above, but not by as much as mixed air", 14.93, "notWhenPossible"),
  onStop("drift", "the wind blows to a place nearby", (draft, stop) => {
    placeDownwind(draft, stop, { distanceM: 2000, downwindRule: "stopsField" });
    return true;
  }),
  onStop("drift", "the wind blows to a place nearby, the order may not be split", (draft, stop) => {
    stop.order.maySplit = false;
    placeDownwind(draft, stop, { distanceM: 2000, downwindRule: "sparesPart" });
    return true;
  }),
  onStop("drift", "a corner of the field has a place in the wind", (draft, stop) => {
    const { geometry } = draft.operation.fields.features.find(({ properties }) => properties === stop.field)!;
    const rings = geometry.type === "Polygon" ? geometry.coordinates : geometry.coordinates.flat();
    const corner = pick(draft, pick(draft, rings)!)!;
    placeInWind(draft, stop, corner, 30, { distanceM: pickInt(draft, 31, 60), downwindRule: "stopsField" });
    return true;
  }),
  onStop("driftNear", "the wind blows to a place near to the block", (draft, stop) => {
    stop.order.maySplit = true;
    placeDownwind(draft, stop, { distanceM: 4500, downwindRule: "sparesPart" });
    return true;
  }),
];
