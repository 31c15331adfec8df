import { deltaTC, pressurePa } from "../../../shared/agronomy/air.ts";
import { sunDay } from "../../../shared/agronomy/sun.ts";
import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import { greatCircleKm } from "../../../shared/geo/distance.ts";
import { addDays, type Calendar, daysBetween } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import { remember } from "../../../shared/model/remember.ts";
import { driftOracle } from "./driftOracle.ts";

/**
 * The table of limits in DEVELOPERS.md, row by row and as slow as it reads: which limits stop a minute of the order. It
 * shares only the formulas of sun, air and geometry with the room that it judges.
 */
export function minuteOracle(operation: Operation, calendar: Calendar, order: Order) {
  const { limits, altitudeM } = operation.settings;
  const feature = operation.fields.features.find(({ properties }) => properties.id === order.fieldId)!;
  const field = feature.properties;
  const products = order.products.map(({ productId }) => operation.products.find(({ id }) => id === productId)!);
  const uses = products.map((product) => product.uses.find(({ crop }) => crop === field.crop)!);
  const centroid = geometryCentroidLonLat(feature.geometry);
  const kmTo = (step: { lonDeg: number; latDeg: number }) => greatCircleKm(centroid, [step.lonDeg, step.latDeg]);
  const leastKm = Math.min(...operation.weather.map(kmTo));
  const steps = operation.weather
    .filter((step) => kmTo(step) === leastKm)
    .map((step) => {
      const from = calendar.minOfInstant(step.start);
      return { ...step, from, to: from + step.stepMin };
    });

  const drift = driftOracle(operation, order);

  const sunOn = remember((date: string) => sunDay(calendar, date, centroid[1], centroid[0]));
  /** The hours about each night that the forecast or the horizon may touch; a sun that stays down is out of sight all date. */
  const nightsAbout: { readonly from: number; readonly to: number }[] = [];
  const lastDate = addDays(operation.settings.firstDay, operation.settings.days + 2);
  const firstMin = Math.min(0, ...steps.map(({ from }) => from));
  for (let date = addDays(calendar.dateOfMin(firstMin), -3); date < lastDate; date = addDays(date, 1)) {
    const [evening, morning] = [sunOn(date).horizon, sunOn(addDays(date, 1)).horizon];
    if (evening.kind === "above") continue;
    const { startBeforeSunsetMin, endAfterSunriseMin } = limits.inversionHours;
    const from = evening.kind === "below" ? calendar.minOfDate(date) : evening.downMin - startBeforeSunsetMin;
    const risenMin = () => (morning.kind === "crosses" ? morning.upMin : calendar.minOfDate(addDays(date, 1)));
    const to = morning.kind === "below" ? calendar.minOfDate(addDays(date, 2)) : risenMin() + endAfterSunriseMin;
    nightsAbout.push({ from, to });
  }
  const isAboutNight = (t: number) => nightsAbout.some(({ from, to }) => from <= t && t < to);
  const stepAt = remember((t: number) => steps.find(({ from, to }) => from <= t && t < to));

  return (type: AircraftType, night: boolean, m: number): string[] => {
    const today = calendar.dateOfMin(m);
    const stopped = new Set<string>();
    const stopIf = (limit: string, condition: boolean) => condition && stopped.add(limit);
    const min = calendar.minOfLocal;

    /** The row `inversion`, for the minute in this step. */
    const inversionRisk = (step: (typeof steps)[number]): "none" | "possible" | "likely" => {
      if (step.upperTemperatureC !== undefined && step.upperTemperatureHeightM !== undefined) {
        const betweenM = step.upperTemperatureHeightM - step.temperatureHeightM;
        if (step.upperTemperatureC > step.temperatureC) return "likely";
        return step.upperTemperatureC > step.temperatureC - 0.0098 * betweenM ? "possible" : "none";
      }
      if (!isAboutNight(m) || isRain(step)) return "none";
      const isClear = step.cloudPct < 88;
      const isStill = step.windKph <= 11;
      if (isClear && isStill) return "likely";
      if (!isClear && !isStill) return "none";
      // Back to where these hours began; a forecast begins somewhere, too.
      for (let t = m; isAboutNight(t); t--) {
        const covering = stepAt(t);
        if (!covering || covering.windKph <= 11) return "possible";
      }
      return "none";
    };

    stopIf("dates", m < min(order.earliest) || m + 1 > min(order.latest));

    /** Where civil dusk and dawn are taken when they do not come: the middle of the night before a date, or else midnight as it is. */
    const turnOfNight = (date: string, offsetMin: number) => {
      const [evening, morning] = [sunOn(addDays(date, -1)).horizon, sunOn(date).horizon];
      const hasNight = evening.kind === "crosses" && morning.kind === "crosses";
      return hasNight ? (evening.downMin + morning.upMin) / 2 + offsetMin : calendar.minOfDate(date);
    };
    const flyingDayOf = (date: string) => {
      const { horizon, civil } = sunOn(date);
      const next = addDays(date, 1);
      if (horizon.kind === "above") return [{ from: calendar.minOfDate(date), to: calendar.minOfDate(next) }];
      const { from, fromOffsetMin, to, toOffsetMin } = limits.flyingDay;
      const dawn = from === "sunrise" ? horizon : civil;
      const dusk = to === "sunset" ? horizon : civil;
      if (dawn.kind === "below" || dusk.kind === "below") return [];
      return [
        {
          from: dawn.kind === "above" ? turnOfNight(date, fromOffsetMin) : dawn.upMin + fromOffsetMin,
          to: dusk.kind === "above" ? turnOfNight(next, toOffsetMin) : dusk.downMin + toOffsetMin,
        },
      ];
    };
    // A minute may begin in one flying day and end in the next where no time lies between.
    const days = [-2, -1, 0, 1].flatMap((away) => flyingDayOf(addDays(today, away)));
    const isLight = (t: number) => days.some(({ from, to }) => from <= t && t <= to);
    const flying = [0, 0.25, 0.5, 0.75, 1].every((part) => isLight(m + part));
    stopIf("daylight", !flying && !(night && type.nightCapable));

    // Decimals carry rounding noise, so as much as the limit is looked for with a little less.
    const isRain = ({ rainMm, stepMin, rainProbabilityPct }: (typeof steps)[number]) =>
      rainMm * Math.max(1, 60 / stepMin) >= limits.rainMm - 1e-9 || rainProbabilityPct >= limits.rainProbabilityPct;
    const step = stepAt(m);
    stopIf("noForecast", !step);

    const least = (...values: (number | undefined)[]) => Math.min(...values.map((v) => v ?? Number.POSITIVE_INFINITY));
    const most = (...values: (number | undefined)[]) => Math.max(...values.map((v) => v ?? Number.NEGATIVE_INFINITY));
    if (step) {
      const profile = (heightM: number) => Math.log(67.8 * Math.max(0.5, heightM) - 5.42);
      const windKph =
        limits.windAt === "asMeasured"
          ? step.windKph
          : (step.windKph * profile(type.releaseHeightM)) / profile(step.windHeightM);
      stopIf("windLow", windKph < most(...products.map((p) => p.windMinKph)));
      stopIf("wind", windKph > least(...products.map((p) => p.windMaxKph), type.windMaxKph, limits.windMaxKph));
      stopIf("gust", step.gustKph > least(...products.map((p) => p.gustMaxKph), type.gustMaxKph, limits.gustMaxKph));
      const deltaT = deltaTC(step.temperatureC, step.humidityPct, pressurePa(altitudeM));
      stopIf("deltaT", deltaT < most(...products.map((p) => p.deltaTMinC)));
      stopIf("deltaT", deltaT > least(...products.map((p) => p.deltaTMaxC)));
      stopIf("temperature", step.temperatureC < most(...products.map((p) => p.temperatureMinC)));
      stopIf("temperature", step.temperatureC > least(...products.map((p) => p.temperatureMaxC)));
      stopIf("humidity", step.humidityPct < most(...products.map((p) => p.humidityMinPct)));
      stopIf("humidity", step.humidityPct > least(...products.map((p) => p.humidityMaxPct)));
      stopIf("rain", isRain(step));
    }

    if (order.waitAfterRainMm !== undefined && order.waitAfterRainHours !== undefined) {
      const sinceMin = m - 60 * order.waitAfterRainHours;
      const counted = steps.filter(({ from, to }) => from < m + 1 && to > sinceMin);
      const rainMm = counted.reduce((sum, { rainMm }) => sum + rainMm, 0);
      stopIf("wet", rainMm >= order.waitAfterRainMm - 1e-9);
      for (let t = Math.floor(sinceMin + 1e-9); t <= m; t++) {
        stopIf("wet", !steps.some(({ from, to }) => from <= t && t < to));
      }
    }

    const rainfastMin = 60 * Math.max(...products.map((p) => p.rainfastHours));
    for (let t = m + 1; t < m + 1 + rainfastMin; t++) {
      const covering = stepAt(t);
      stopIf("noForecast", !covering);
      stopIf("rainfast", !!covering && isRain(covering));
    }

    const inBloom = !!field.bloom && field.bloom.from <= today && today <= field.bloom.to;
    const beesFly = [-1, 0, 1].some((away) => {
      const date = addDays(today, away);
      const sun = sunOn(date).horizon;
      if (sun.kind === "below") return false;
      if (sun.kind === "above") return date === today;
      const { startAfterSunriseMin, endBeforeSunsetMin } = limits.beeHours;
      return m >= sun.upMin + startAfterSunriseMin && m < sun.downMin - endBeforeSunsetMin;
    });
    for (const { bloomRule } of products) {
      stopIf("bloom", inBloom && (bloomRule === "forbidden" || (bloomRule === "outsideBeeHours" && beesFly)));
    }

    if (step) {
      const risk = inversionRisk(step);
      const rules = products.map((p) => p.inversionRule);
      stopIf("inversion", risk === "likely" && rules.some((rule) => rule !== "ignore"));
      stopIf("inversion", risk === "possible" && rules.includes("notWhenPossible"));
    }

    stopIf(
      "closed",
      field.closures.some(({ from, to }) => min(from) < m + 1 && m < calendar.lastMinOfLocal(to)),
    );
    stopIf(
      "entry",
      field.entries.some(({ from, to }) => min(from) < m + 1 && m < calendar.lastMinOfLocal(to)),
    );
    const reiMin = 60 * Math.max(...products.map((p) => p.reiHours));
    stopIf(
      "rei",
      [...field.entries, ...field.closures.filter(({ people }) => people)].some(
        ({ from }) => min(from) > m && m + 1 + reiMin > min(from),
      ),
    );

    if (field.harvestDate !== undefined) {
      const phiDays = Math.max(...uses.map((use) => use.phiDays));
      stopIf("phi", daysBetween(today, field.harvestDate) < phiDays);
      stopIf("phi", m + 1 + reiMin > calendar.minOfDate(field.harvestDate));
    }
    for (const past of field.pastApplications) {
      products.forEach(({ id }, index) => {
        const days = daysBetween(calendar.dateOfMin(min(past.endedAt)), today);
        stopIf("retreatment", past.productId === id && days < uses[index]!.retreatmentDays);
      });
    }

    if (step) for (const limit of drift.limitsOf(step)) stopIf(limit, true);
    return [...stopped].sort();
  };
}
