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

/** All risks of a station's forecast under one field's sun, in order of time. `signs` are what its steps show, the same for all fields. */
export function findInversionRisks({ steps }: Station, nights: readonly Interval[], signs: StepSigns): InversionRisk[] {
  const { startMin, endMin, isStill, isClear, isSilent } = signs;
  const risks: InversionRisk[] = [...signs.measured];
  let first = 0;
  for (const night of nights) {
    let earlier: InversionRisk["earlier"];
    let knownToMin = night.startMin;
    // Nights come one after the other: what has ended before this one stays past.
    while (first < steps.length && endMin[first]! <= night.startMin) first++;
    for (let at = first; at < steps.length; at++) {
      if (endMin[at]! <= night.startMin) continue;
      if (startMin[at]! >= night.endMin) break;
      // Nobody knows whether a time without weather was still.
      if (startMin[at]! > knownToMin) earlier ??= "unknown";
      knownToMin = endMin[at]!;
      const still = isStill[at] === 1;
      const clear = isClear[at] === 1;
      if (isSilent[at] === 0 && (still || (clear && earlier !== undefined))) {
        const from = Math.max(startMin[at]!, night.startMin);
        const to = Math.min(endMin[at]!, night.endMin);
        const level = clear && still ? "likely" : "possible";
        const risk = { startMin: from, endMin: to, level, step: steps[at]! } as const;
        risks.push(still || earlier === undefined ? risk : { ...risk, earlier });
      }
      if (still) earlier = "still";
    }
  }
  return risks.sort((a, b) => a.startMin - b.startMin);
}

/** What the steps of a station show of an inversion, by step: lists of numbers, because every field goes through them. */
export interface StepSigns {
  readonly startMin: Float64Array;
  readonly endMin: Float64Array;
  readonly isStill: Uint8Array;
  readonly isClear: Uint8Array;
  /** Rain, and what has told by itself, show nothing by such signs. */
  readonly isSilent: Uint8Array;
  /** Risks that steps tell by themselves. */
  readonly measured: readonly InversionRisk[];
}

export function signsOf({ steps }: Station): StepSigns {
  const levels = steps.map(measuredLevel);
  return {
    startMin: Float64Array.from(steps, (step) => step.startMin),
    endMin: Float64Array.from(steps, (step) => step.endMin),
    isStill: Uint8Array.from(steps, ({ windKph }) => (windKph <= stillUpToKph ? 1 : 0)),
    isClear: Uint8Array.from(steps, ({ cloudPct }) => (cloudPct < clearBelowCloudPct ? 1 : 0)),
    isSilent: Uint8Array.from(steps, ({ isRain }, at) => (isRain || levels[at] !== undefined ? 1 : 0)),
    measured: steps.flatMap((step, at): InversionRisk[] => {
      const level = levels[at];
      if (level !== "possible" && level !== "likely") return [];
      return [{ startMin: step.startMin, endMin: step.endMin, level, step }];
    }),
  };
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
