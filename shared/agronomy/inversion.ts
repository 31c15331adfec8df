import type { Calendar } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import { labelWords } from "./airBounds.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { clip, gaps, type Interval, intervalAt, union } from "./intervals.ts";
import { type Judgement, shortest } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";
import type { SunCourse } from "./sun.ts";
import type { AirStep, Station } from "./weather.ts";

/** Signs of an inversion: GRDC spray manual module 10 (2025); IREC Farmers' Newsletter 197 (2017). */
const clearBelowCloudPct = 88;
const stillUpToKph = 11;
/** Dry adiabatic lapse rate: air that falls off less with height is not mixed. */
const lapseCPerM = 0.0098;
/** Temperatures are given in decimals; their differences carry rounding noise. */
const roundingC = 1e-9;

/** From the mildest to the strictest; unknown is a time without a forecast. */
export const inversionLevels = ["none", "unknown", "possible", "likely"] as const;
export type InversionLevel = (typeof inversionLevels)[number];

/** Minutes with a risk, all in one step of the forecast. */
export interface InversionRisk extends Interval {
  readonly level: "possible" | "likely";
  readonly step: AirStep;
  /** Why a wind does not count as one that has blown through the night; none: the step tells by itself. */
  readonly earlier?: "still" | "unknown";
}

/** Hours are followed back no further than this before the first day, far beyond any forecast. */
const longestStretchDays = 366;

/**
 * From some time before sunset to some time after the next sunrise. Our choice: a sun that stays down keeps the night
 * going; one that stays up ends it at the beginning of its day.
 */
export function inversionHours(
  sunOfDay: SunOfDay,
  { startBeforeSunsetMin, endAfterSunriseMin }: Limits["inversionHours"],
  calendar: Calendar,
): Interval[] {
  const nights: Interval[] = [];
  const days = daysAround(calendar);
  const hasBreak = (course: SunCourse) =>
    course.kind === "above" ||
    (course.kind === "crosses" && course.upMin + endAfterSunriseMin < course.downMin - startBeforeSunsetMin);
  // Since when the hours last without a break matters to what has been still in them.
  while (!hasBreak(sunOfDay(days[0]!).horizon) && days[0]! > -longestStretchDays) days.unshift(days[0]! - 1);
  let duskMin: number | undefined;
  const endNight = (dawnMin: number) => {
    if (duskMin !== undefined) nights.push({ startMin: duskMin, endMin: dawnMin + endAfterSunriseMin });
    duskMin = undefined;
  };
  for (const day of days) {
    const course = sunOfDay(day).horizon;
    const midnightMin = calendar.minOfDate(dateOfDay(calendar, day));
    if (course.kind === "crosses") {
      endNight(course.upMin);
      duskMin = course.downMin - startBeforeSunsetMin;
    } else if (course.kind === "above") {
      endNight(midnightMin);
    } else {
      duskMin ??= midnightMin;
    }
  }
  endNight(calendar.minOfDate(dateOfDay(calendar, days[days.length - 1]! + 1)));
  // Hours of two nights that meet are taken as one: what was still in the first speaks against the second, too.
  return union(nights);
}

/** All risks of a station's forecast under one field's sun, in order of time. `measured` is what steps tell by themselves, the same for all fields. */
export function findInversionRisks(
  { steps }: Station,
  nights: readonly Interval[],
  measured: Measured,
): InversionRisk[] {
  const risks: InversionRisk[] = [...measured.risks];
  let first = 0;
  for (const night of nights) {
    let earlier: InversionRisk["earlier"];
    let knownToMin = night.startMin;
    // Nights come one after the other: what has ended before this one stays past.
    while (first < steps.length && steps[first]!.endMin <= night.startMin) first++;
    for (let at = first; at < steps.length; at++) {
      const step = steps[at]!;
      if (step.endMin <= night.startMin) continue;
      if (step.startMin >= night.endMin) break;
      // Nobody knows whether a time without weather was still.
      if (step.startMin > knownToMin) earlier ??= "unknown";
      knownToMin = step.endMin;
      const isStill = step.windKph <= stillUpToKph;
      const isClear = step.cloudPct < clearBelowCloudPct;
      const hasSign = isStill || (isClear && earlier !== undefined);
      if (hasSign && !step.isRain && measured.levels[at] === undefined) {
        const startMin = Math.max(step.startMin, night.startMin);
        const endMin = Math.min(step.endMin, night.endMin);
        const level = isClear && isStill ? "likely" : "possible";
        if (isStill || earlier === undefined) risks.push({ startMin, endMin, level, step });
        else risks.push({ startMin, endMin, level, step, earlier });
      }
      if (isStill) earlier = "still";
    }
  }
  return risks.sort((a, b) => a.startMin - b.startMin);
}

/** What the steps of a station tell by themselves, by step. */
export interface Measured {
  readonly levels: readonly (InversionLevel | undefined)[];
  readonly risks: readonly InversionRisk[];
}

export function measuredBy({ steps }: Station): Measured {
  const levels = steps.map(measuredLevel);
  const risks = steps.flatMap((step, at): InversionRisk[] => {
    const level = levels[at];
    if (level !== "possible" && level !== "likely") return [];
    return [{ startMin: step.startMin, endMin: step.endMin, level, step }];
  });
  return { levels, risks };
}

/** What temperatures at two heights tell, at any hour; undefined when only one is given. */
function measuredLevel(step: AirStep): InversionLevel | undefined {
  const { upperTemperatureC, upperTemperatureHeightM } = step;
  if (upperTemperatureC === undefined || upperTemperatureHeightM === undefined) return undefined;
  const { temperatureC, temperatureHeightM } = step;
  if (upperTemperatureC > temperatureC) return "likely";
  const mixedC = temperatureC - lapseCPerM * (upperTemperatureHeightM - temperatureHeightM);
  return upperTemperatureC > mixedC + roundingC ? "possible" : "none";
}

/** The gravest level of some minutes. */
export function inversionLevelIn(
  station: Station,
  risks: readonly InversionRisk[],
  startMin: number,
  endMin: number,
): InversionLevel {
  const levels = risks
    .filter((risk) => risk.startMin < endMin && risk.endMin > startMin)
    .map(({ level }): InversionLevel => level);
  if (gaps(station.steps, startMin, endMin).length > 0) levels.push("unknown");
  return levels.reduce<InversionLevel>(
    (gravest, level) => (inversionLevels.indexOf(level) > inversionLevels.indexOf(gravest) ? level : gravest),
    "none",
  );
}

export function inversionRule(mix: Mix, risks: readonly InversionRisk[], calendar: Calendar): MinuteRule | undefined {
  const rule = mix.inversionRule;
  const strictest = mix.products.find(({ product }) => product.inversionRule === rule);
  if (rule === "ignore" || !strictest) return undefined;
  const label = labelWords(mix, strictest.product);
  const stopping = rule === "notWhenLikely" ? risks.filter(({ level }) => level === "likely") : risks;
  return {
    limit: "inversion",
    stops: clip(union(stopping), 0, calendar.horizonMin),
    judgeAt: (min): Judgement | undefined => {
      const risk = intervalAt(stopping, min);
      if (!risk) return undefined;
      const [allowed, forbidden] = rule === "notWhenLikely" ? ["possible", "a likely one"] : ["none", "a possible one"];
      const sentence = `inversion ${risk.level} (${evidence(risk)}), ${label} forbids work in ${forbidden}`;
      return { limit: "inversion", actual: risk.level, allowed, unit: "", sentence };
    },
  };
}

const earlierWords = {
  still: ", still air earlier that night",
  unknown: ", no weather known for part of the night before it",
};

function evidence({ step, earlier }: InversionRisk): string {
  const { temperatureC, temperatureHeightM, upperTemperatureC, upperTemperatureHeightM, cloudPct, windKph } = step;
  return upperTemperatureC === undefined
    ? `night or its edge, cloud ${cloudPct} %, wind ${shortest(windKph, 1)} km/h${earlier ? earlierWords[earlier] : ""}`
    : `${upperTemperatureC} °C at ${upperTemperatureHeightM} m over ${temperatureC} °C at ${temperatureHeightM} m`;
}
