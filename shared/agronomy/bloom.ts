import { addDays, type Calendar } from "../model/calendar.ts";
import { shortDateWords } from "../model/dateWords.ts";
import type { FieldProperties } from "../model/field.ts";
import type { Limits } from "../model/settings.ts";
import { labelWords } from "./airBounds.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { clip, intervalAt, union } from "./intervals.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";
import { endSeenFrom, spanSeenFrom } from "./timeWords.ts";

/** When bees forage in a crop in bloom. Our choice: all day under a sun that stays up, never under one that stays down. */
export function bloomRule(
  field: FieldProperties,
  mix: Mix,
  sunOfDay: SunOfDay,
  beeHours: Limits["beeHours"],
  calendar: Calendar,
): MinuteRule | undefined {
  const { bloom } = field;
  const strictest = mix.products.find(({ product }) => product.bloomRule === mix.bloomRule);
  if (!bloom || mix.bloomRule === "allowed" || !strictest) return undefined;
  const label = labelWords(mix, strictest.product);
  const inBloom = { startMin: calendar.minOfDate(bloom.from), endMin: calendar.minOfDate(addDays(bloom.to, 1)) };
  /** When bees forage, by the date whose sun they follow: in white nights into the next one. */
  const spans = daysAround(calendar).flatMap((day) => {
    const date = dateOfDay(calendar, day);
    const wholeDay = { startMin: calendar.minOfDate(date), endMin: calendar.minOfDate(addDays(date, 1)) };
    if (mix.bloomRule === "forbidden") return [wholeDay];
    const course = sunOfDay(day).horizon;
    if (course.kind === "below") return [];
    if (course.kind === "above") return [wholeDay];
    const startMin = course.upMin + beeHours.startAfterSunriseMin;
    const endMin = course.downMin - beeHours.endBeforeSunsetMin;
    return startMin < endMin ? [{ startMin, endMin }] : [];
  });
  const bloomTo = shortDateWords(bloom.to, calendar.dates[0]!);
  return {
    limit: "bloom",
    stops: clip(clip(union(spans), inBloom.startMin, inBloom.endMin), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const hours = intervalAt(spans, min);
      if (!hours || !intervalAt([inBloom], min)) return undefined;
      const date = calendar.dateOfMin(min);
      const told = { limit: "bloom", actual: `${date}T${calendar.clockOfMin(min)}`, unit: "" } as const;
      if (mix.bloomRule === "forbidden") {
        const sentence = `${field.crop} in bloom to ${bloomTo}, ${label} forbids work in bloom`;
        return { ...told, allowed: "not in bloom", sentence };
      }
      const isAllDay =
        hours.startMin === calendar.minOfDate(date) && hours.endMin === calendar.minOfDate(addDays(date, 1));
      const [allowed, words] = isAllDay
        ? ["not that day", "all day"]
        : [`from ${endSeenFrom(hours.endMin, min, calendar)}`, `from ${spanSeenFrom(hours, min, calendar)}`];
      return {
        ...told,
        allowed,
        sentence: `${field.crop} in bloom, bees forage ${words}, ${label} forbids work then`,
      };
    },
  };
}
