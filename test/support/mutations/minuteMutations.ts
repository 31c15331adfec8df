import { sunDay } from "../../../shared/agronomy/sun.ts";
import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import { createPlane } from "../../../shared/geo/plane.ts";
import { addDays } from "../../../shared/model/calendar.ts";
import type { Product } from "../../../shared/model/product.ts";
import type { SensitiveId } from "../../../shared/model/quantities.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import type { RuleName } from "../../../shared/plan/check/report.ts";
import {
  crewOf,
  type Draft,
  type DraftStop,
  localTime,
  type Mutation,
  minuteOf,
  mutation,
  pick,
  pickInt,
  stepsAt,
  stopsOf,
  useOf,
} from "./mutation.ts";

/** A change to a stop picked at random. */
function onStop(rule: RuleName, name: string, change: (draft: Draft, stop: DraftStop) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const stop = pick(draft, stopsOf(draft));
    return stop !== undefined && change(draft, stop);
  });
}

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

export const minuteMutations: readonly Mutation[] = [
  onStop("dates", "order ends during the work", (draft, stop) => {
    stop.order.latest = localTime(draft, minuteOf(draft, stop));
    return true;
  }),
  onStop("dates", "order begins during the work", (draft, stop) => {
    stop.order.earliest = localTime(draft, minuteOf(draft, stop) + 1);
    return true;
  }),
  mutation("daylight", "crew-day moved to the middle of the night", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(
        ({ crewDay, types }) => !(crewOf(draft, crewDay).nightWork && types.every((t) => t.nightCapable)),
      ),
    );
    if (stop === undefined) return false;
    const midnightMin = draft.calendar.minOfDate(draft.calendar.dateOfMin(stop.work.startMin));
    const byMin = midnightMin + pickInt(draft, -60, 20) - stop.work.startMin;
    for (const activity of stop.crewDay.activities) {
      activity.startMin += byMin;
      activity.endMin += byMin;
    }
    return true;
  }),
  mutation("daylight", "nobody may work at night any more", (draft) => {
    const day = 24 * 60;
    draft.operation.settings.limits.flyingDay = {
      from: "sunrise",
      fromOffsetMin: day,
      to: "sunset",
      toOffsetMin: -day,
    };
    for (const crew of draft.operation.fleet.crews) crew.nightWork = false;
    return draft.plan.crewDays.length > 0;
  }),
  onStop("noForecast", "no step covers a minute of the work", (draft, stop) => {
    const gone = stepsAt(draft, minuteOf(draft, stop));
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    return true;
  }),
  onStop("noForecast", "no step covers the end of the rainfast period", (draft, stop) => {
    const hours = pickInt(draft, 2, 6);
    pick(draft, stop.products)!.rainfastHours = hours;
    const gone = stepsAt(draft, stop.work.endMin + hours * 60 - 1);
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    return true;
  }),
  onWeather("windLow", "wind under the label's least", { windKph: 2 }, (product) => {
    product.windMinKph = 2.1;
  }),
  onWeather("wind", "wind over the label's most", { windKph: 15.1 }, (product) => {
    product.windMaxKph = 15;
  }),
  onWeather("wind", "wind over an aircraft's most", { windKph: 21 }, (_, draft, stop) => {
    pick(draft, stop.types)!.windMaxKph = 20;
  }),
  onWeather("wind", "wind over the operation's most", { windKph: 13 }, (_, draft) => {
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
  onStop("bloom", "a label forbids the crop in bloom", (draft, stop) => {
    const date = draft.calendar.dateOfMin(minuteOf(draft, stop));
    stop.field.bloom = { from: addDays(date, -pickInt(draft, 0, 3)), to: addDays(date, pickInt(draft, 0, 3)) };
    pick(draft, stop.products)!.bloomRule = "forbidden";
    return true;
  }),
  onStop("bloom", "bees fly", (draft, stop) => {
    const min = minuteOf(draft, stop);
    const date = draft.calendar.dateOfMin(min);
    const sun = sunOver(draft, stop, date);
    if (sun === null || min < sun.upMin + 2 || min > sun.downMin - 2) return false;
    stop.field.bloom = { from: date, to: date };
    pick(draft, stop.products)!.bloomRule = "outsideBeeHours";
    draft.operation.settings.limits.beeHours = { startAfterSunriseMin: 0, endBeforeSunsetMin: 0 };
    return true;
  }),
  inversionMutation("an inversion is likely", { cloudPct: 20, windKph: 6 }, "notWhenLikely"),
  inversionMutation("an inversion is possible in the wind", { cloudPct: 20, windKph: 13 }, "notWhenPossible"),
  inversionMutation("an inversion is possible under cloud", { cloudPct: 95, windKph: 6 }, "notWhenPossible"),
  onStop("closed", "the field is closed for a minute", (draft, stop) => {
    const min = minuteOf(draft, stop);
    stop.field.closures.push({ from: localTime(draft, min), to: localTime(draft, min + 1), reason: "irrigation" });
    return true;
  }),
  onStop("entry", "somebody enters during the work", (draft, stop) => {
    const min = minuteOf(draft, stop);
    stop.field.entries.push({ from: localTime(draft, min), to: localTime(draft, min + 1), who: "Crop scouts" });
    return true;
  }),
  onStop("rei", "somebody enters too soon after the work", (draft, stop) => {
    const hours = pickInt(draft, 4, 48);
    pick(draft, stop.products)!.reiHours = hours;
    const min = stop.work.endMin + pickInt(draft, 0, hours * 60 - 1);
    stop.field.entries.push({ from: localTime(draft, min), to: localTime(draft, min + 60), who: "Crop scouts" });
    return true;
  }),
  onStop("phi", "harvest too soon by the label's days", (draft, stop) => {
    const days = pickInt(draft, 1, 30);
    useOf(draft, stop).use.phiDays = days;
    stop.field.harvestDate = addDays(draft.calendar.dateOfMin(stop.work.endMin - 1), days - 1);
    return true;
  }),
  onStop("phi", "harvest begins before people may enter again", (draft, stop) => {
    const date = addDays(draft.calendar.dateOfMin(stop.work.endMin - 1), 1);
    stop.field.harvestDate = date;
    const freeHours = (draft.calendar.minOfDate(date) - stop.work.endMin) / 60;
    for (const product of stop.products) for (const use of product.uses) use.phiDays = 0;
    pick(draft, stop.products)!.reiHours = freeHours + 0.1;
    return true;
  }),
  onStop("retreatment", "applied a day too lately before", (draft, stop) => {
    const { product, use, ratePerHa } = useOf(draft, stop);
    const days = pickInt(draft, 1, 20);
    use.retreatmentDays = days;
    const date = addDays(draft.calendar.dateOfMin(stop.work.startMin), 1 - days);
    stop.field.pastApplications.push({ productId: product.id, endedAt: `${date}T00:00`, ratePerHa });
    return true;
  }),
  mutation("retreatment", "two orders too near to each other", (draft) => {
    const stops = stopsOf(draft);
    const pairs = stops.flatMap((a) =>
      stops
        .filter((b) => b.order !== a.order && b.field === a.field && b.work.startMin >= a.work.endMin)
        .flatMap((b) =>
          a.products.filter((product) => b.products.includes(product)).map((product) => ({ a, product })),
        ),
    );
    const found = pick(draft, pairs);
    if (found === undefined) return false;
    for (const use of found.product.uses) use.retreatmentDays = 40;
    return true;
  }),
  onStop("drift", "the wind blows to a place nearby", (draft, stop) => {
    const feature = draft.operation.fields.features.find((one) => one.properties === stop.field)!;
    const [lonDeg, latDeg] = geometryCentroidLonLat(feature.geometry);
    const towardsDeg = pickInt(draft, 0, 359);
    const offDeg = pickInt(draft, -40, 40);
    const distanceM = 2000;
    const towardsRad = (towardsDeg * Math.PI) / 180;
    const coordinates = createPlane(lonDeg, latDeg).toPosition([
      distanceM * Math.sin(towardsRad),
      distanceM * Math.cos(towardsRad),
    ]);
    draft.operation.sensitive.features.push({
      type: "Feature",
      geometry: { type: "Point", coordinates },
      properties: { id: "DOWNWIND" as SensitiveId, kind: "apiary", name: "Hives", radiusM: 0 },
    });
    pick(draft, stop.products)!.buffers.push({ kind: "apiary", distanceM: 2000, downwindOnly: true, downwindRule: "stopsField" });
    draft.operation.settings.limits.driftAngleDeg = 45;
    for (const step of stepsAt(draft, minuteOf(draft, stop)))
      step.windFromDeg = (towardsDeg + offDeg + 180 + 360) % 360;
    return true;
  }),
];

/** Sunrise and sunset at the field on a date; null far north or south in summer and winter. */
function sunOver(draft: Draft, { field }: DraftStop, date: string): { upMin: number; downMin: number } | null {
  const feature = draft.operation.fields.features.find((one) => one.properties === field)!;
  const [lonDeg, latDeg] = geometryCentroidLonLat(feature.geometry);
  const { horizon } = sunDay(draft.calendar, date, latDeg, lonDeg);
  return horizon.kind === "crosses" ? horizon : null;
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
    pick(draft, found.stop.products)!.inversionRule = rule;
    for (const step of stepsAt(draft, found.min)) Object.assign(step, weather, { rainMm: 0, rainProbabilityPct: 0 });
    return true;
  });
}
