import type { Calendar } from "../model/calendar.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { clip, type Interval, intervalAt, union } from "./intervals.ts";
import type { Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";

/** Signs of an inversion: GRDC spray manual module 10 (2025); IREC Farmers' Newsletter 197 (2017). */
const inversionSigns = { beforeSunsetMin: 90, afterSunriseMin: 60, cloudBelowPct: 88, windUpToKph: 11 };

/**
 * From 90 min before sunset to 60 min after the next sunrise. Our choice: a sun that stays down keeps the night going;
 * one that stays up ends it at the beginning of its day.
 */
export function inversionHours(sunOfDay: SunOfDay, calendar: Calendar): Interval[] {
  const nights: Interval[] = [];
  const days = daysAround(calendar);
  let duskMin: number | undefined;
  const endNight = (dawnMin: number) => {
    if (duskMin !== undefined) nights.push({ startMin: duskMin, endMin: dawnMin + inversionSigns.afterSunriseMin });
    duskMin = undefined;
  };
  for (const day of days) {
    const course = sunOfDay(day).horizon;
    const midnightMin = calendar.minOfDate(dateOfDay(calendar, day));
    if (course.kind === "crosses") {
      endNight(course.upMin);
      duskMin = course.downMin - inversionSigns.beforeSunsetMin;
    } else if (course.kind === "above") {
      endNight(midnightMin);
    } else {
      duskMin ??= midnightMin;
    }
  }
  endNight(calendar.minOfDate(dateOfDay(calendar, days[days.length - 1]! + 1)));
  return union(nights);
}

type InversionRisk = "none" | "possible" | "likely";

function inversionRiskOf(step: AirStep): InversionRisk {
  if (step.isRain) return "none";
  const signs =
    Number(step.cloudPct < inversionSigns.cloudBelowPct) + Number(step.windKph <= inversionSigns.windUpToKph);
  return (["none", "possible", "likely"] as const)[signs]!;
}

export function inversionRule(
  rule: Mix["inversionRule"],
  hours: readonly Interval[],
  station: Station,
  calendar: Calendar,
): MinuteRule | undefined {
  if (rule === "ignore") return undefined;
  const judge = (step: AirStep): Judgement | undefined => {
    const risk = inversionRiskOf(step);
    if (risk === "none" || (risk === "possible" && rule === "notWhenLikely")) return undefined;
    const allowed = rule === "notWhenLikely" ? "possible" : "none";
    const air = `cloud ${step.cloudPct} %, wind ${step.windKph} km/h`;
    const words = rule === "notWhenLikely" ? "a likely one" : "a possible one";
    return {
      limit: "inversion",
      actual: risk,
      allowed,
      unit: "",
      sentence: `inversion ${risk} (night or its edge, ${air}), label forbids work in ${words}`,
    };
  };
  const stops = station.steps.flatMap((step) => (judge(step) ? clip(hours, step.startMin, step.endMin) : []));
  return {
    limit: "inversion",
    stops: clip(union(stops), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      return step && intervalAt(hours, min) ? judge(step) : undefined;
    },
  };
}
