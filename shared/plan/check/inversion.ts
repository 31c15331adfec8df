import type { SunCourse } from "../../agronomy/sun.ts";
import { addDays } from "../../model/calendar.ts";
import type { WeatherStep } from "../../model/weather.ts";
import type { Facts, Mix, Stop } from "./facts.ts";
import { type Ledger, rounding } from "./report.ts";
import type { Sky, Step } from "./sky.ts";
import { firstUncovered, partIn, type Span, shareMinute } from "./spans.ts";

/** Signs of an inversion: GRDC spray manual, module 10 (2025). */
const clearBelowCloudPct = 88;
const stillUpToKph = 11;
/** Dry adiabatic lapse rate. */
const lapseCPerM = 0.0098;

/** Hours that meet are followed back to this many days before the plan's first. */
const farthestBackDays = 366;

type Risk = "none" | "possible" | "likely";

/** The risk of an inversion in each step of a stretch of work against the strictest of its labels. */
export function checkInversion(
  facts: Facts,
  ledger: Ledger,
  sky: Sky,
  stop: Stop,
  span: Span,
  touched: readonly Step[],
): void {
  const rules = stop.mix.products.map((product) => product.inversionRule);
  if (rules.every((rule) => rule === "ignore")) return;
  const stopping: readonly Risk[] = rules.includes("notWhenPossible") ? ["possible", "likely"] : ["likely"];
  const nights = nightsOf(facts, sky, stop.mix, span);
  const steps = sky.steps(stop.mix);
  for (const touchedStep of touched) {
    const { step, fromMin } = touchedStep;
    const risks = measuredRisk(step) ?? signedRisks(touchedStep, partIn(touchedStep, span), nights, steps);
    const worst = stopping.findLast((risk) => risks.includes(risk));
    ledger.expect("inversion", worst === undefined, stop.subject, () => ({
      sentence: `an inversion is ${worst} from ${facts.calendar.isoOfMin(fromMin)}: cloud ${step.cloudPct} %, wind ${step.windKph} km/h, ${step.temperatureC} °C, above ${step.upperTemperatureC ?? "unknown"} °C`,
      actual: worst!,
      allowed: rules.filter((rule) => rule !== "ignore").join(", "),
    }));
  }
}

/** Two heights of air tell by themselves; undefined when only one is given. */
function measuredRisk(step: WeatherStep): Risk[] | undefined {
  const { temperatureC, temperatureHeightM, upperTemperatureC, upperTemperatureHeightM } = step;
  if (upperTemperatureC === undefined || upperTemperatureHeightM === undefined) return undefined;
  if (upperTemperatureC > temperatureC) return ["likely"];
  const mixedC = temperatureC - lapseCPerM * (upperTemperatureHeightM - temperatureHeightM);
  return upperTemperatureC > mixedC + rounding ? ["possible"] : ["none"];
}

const isStill = ({ step }: Step) => step.windKph <= stillUpToKph;

/** The risk in the worked part of a step, in each of the nights that it lies in. */
function signedRisks(touched: Step, worked: Span, nights: readonly Span[], steps: readonly Step[]): Risk[] {
  if (touched.isRain) return ["none"];
  const isClear = touched.step.cloudPct < clearBelowCloudPct;
  return nights
    .filter((night) => shareMinute(night, worked))
    .map((night): Risk => {
      if (isClear && isStill(touched)) return "likely";
      if (isStill(touched)) return "possible";
      if (!isClear) return "none";
      // What nobody measured may have been still.
      const soFar = { fromMin: night.fromMin, toMin: Math.min(night.toMin, worked.toMin) };
      const isMeasured = firstUncovered(soFar, steps) === undefined;
      return isMeasured && !steps.some((one) => isStill(one) && shareMinute(one, soFar)) ? "none" : "possible";
    });
}

/**
 * Hours in which an inversion may lie over the field: from before a sunset until after the next sunrise. Our choice: a sun
 * that stays down keeps the night going, one that stays up rises at local midnight, and hours that meet are one stretch.
 */
function nightsOf(facts: Facts, sky: Sky, mix: Mix, span: Span): Span[] {
  const { calendar, operation } = facts;
  const { startBeforeSunsetMin, endAfterSunriseMin } = operation.settings.limits.inversionHours;
  const last = addDays(calendar.dateOfMin(span.toMin), 1);
  let date = addDays(calendar.dateOfMin(span.fromMin), -2);
  const isWithoutBreak = (sun: SunCourse) =>
    sun.kind === "below" ||
    (sun.kind === "crosses" && sun.downMin - startBeforeSunsetMin <= sun.upMin + endAfterSunriseMin);
  // A stretch that began long ago: no step since its first minute is left out.
  const farthest = addDays(operation.settings.firstDay, -farthestBackDays);
  while (date > farthest && isWithoutBreak(sky.sun(mix, date).horizon)) date = addDays(date, -1);

  const nights: Span[] = [];
  for (let duskMin: number | undefined; date <= last || duskMin !== undefined; date = addDays(date, 1)) {
    const sun = sky.sun(mix, date).horizon;
    const midnightMin = calendar.minOfDate(date);
    if (sun.kind === "below") {
      duskMin ??= midnightMin;
      continue;
    }
    const riseMin = sun.kind === "crosses" ? sun.upMin : midnightMin;
    if (duskMin !== undefined) {
      const night = { fromMin: duskMin, toMin: riseMin + endAfterSunriseMin };
      const before = nights.at(-1);
      if (before !== undefined && night.fromMin <= before.toMin) night.fromMin = nights.pop()!.fromMin;
      nights.push(night);
    }
    duskMin = sun.kind === "crosses" && date <= last ? sun.downMin - startBeforeSunsetMin : undefined;
  }
  return nights;
}
