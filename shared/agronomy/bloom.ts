import { addDays, type Calendar } from "../model/calendar.ts";
import type { FieldProperties } from "../model/field.ts";
import type { Limits } from "../model/settings.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { clip, intervalAt, union } from "./intervals.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";

/** When bees forage in a crop in bloom. Our choice: all day under a sun that stays up, never under one that stays down. */
export function bloomRule(
  field: FieldProperties,
  mix: Mix,
  sunOfDay: SunOfDay,
  beeHours: Limits["beeHours"],
  calendar: Calendar,
): MinuteRule | undefined {
  const { bloom } = field;
  if (!bloom || mix.bloomRule === "allowed") return undefined;
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
  const stopped = union(spans);
  return {
    limit: "bloom",
    stops: clip(stopped, 0, calendar.horizonMin),
    judgeAt: (min) => {
      const hours = intervalAt(stopped, min);
      if (!hours) return undefined;
      const actual = `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;
      return mix.bloomRule === "forbidden"
        ? {
            limit: "bloom",
            actual,
            allowed: "not in bloom",
            unit: "",
            sentence: `${field.crop} in bloom to ${bloom.to}, label forbids it`,
          }
        : {
            limit: "bloom",
            actual,
            allowed: `from ${calendar.clockOfMin(hours.endMin)}`,
            unit: "",
            sentence: `${field.crop} in bloom, bees forage from ${calendar.clockOfMin(hours.startMin)} to ${calendar.clockOfMin(hours.endMin)}`,
          };
    },
  };
}
