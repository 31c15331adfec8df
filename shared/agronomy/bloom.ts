import { addDays, type Calendar } from "../model/calendar.ts";
import type { FieldProperties } from "../model/field.ts";
import type { Limits } from "../model/settings.ts";
import { labelWords } from "./airBounds.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { clip, intervalAt, union } from "./intervals.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";
import { endSeenFrom } from "./timeWords.ts";

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
  /** One for each day. */
  const spans = daysAround(calendar).flatMap((day) => {
    const date = dateOfDay(calendar, day);
    if (date < bloom.from || date > bloom.to) return [];
    const wholeDay = { startMin: calendar.minOfDate(date), endMin: calendar.minOfDate(addDays(date, 1)) };
    if (mix.bloomRule === "forbidden") return [wholeDay];
    const course = sunOfDay(day).horizon;
    if (course.kind === "below") return [];
    if (course.kind === "above") return [wholeDay];
    const startMin = course.upMin + beeHours.startAfterSunriseMin;
    const endMin = course.downMin - beeHours.endBeforeSunsetMin;
    return clip([{ startMin, endMin }], wholeDay.startMin, wholeDay.endMin);
  });
  return {
    limit: "bloom",
    stops: clip(union(spans), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const hours = intervalAt(spans, min);
      if (!hours) return undefined;
      const date = calendar.dateOfMin(min);
      const told = { limit: "bloom", actual: `${date}T${calendar.clockOfMin(min)}`, unit: "" } as const;
      if (mix.bloomRule === "forbidden") {
        const sentence = `${field.crop} in bloom to ${bloom.to}, ${label} forbids it`;
        return { ...told, allowed: "not in bloom", sentence };
      }
      const [from, to] = [calendar.clockOfMin(hours.startMin), endSeenFrom(hours.endMin, min, calendar)];
      const isAllDay =
        hours.startMin === calendar.minOfDate(date) && hours.endMin === calendar.minOfDate(addDays(date, 1));
      const [allowed, words] = isAllDay ? ["not that day", "all day"] : [`from ${to}`, `from ${from} to ${to}`];
      return {
        ...told,
        allowed,
        sentence: `${field.crop} in bloom, bees forage ${words}, ${label} forbids work then`,
      };
    },
  };
}
