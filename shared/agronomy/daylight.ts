import type { Calendar } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { gaps, type Interval, intervalAt, union } from "./intervals.ts";
import type { MinuteRule } from "./minuteRule.ts";

const minutesPerDay = 1440;

/** The hours in which flying needs no night work. Our choice: a sun that stays up gives the whole local day. */
export function flyingDays(sunOfDay: SunOfDay, flyingDay: Limits["flyingDay"], calendar: Calendar): Interval[] {
  const spans = daysAround(calendar).flatMap((day) => {
    const sun = sunOfDay(day);
    const opening = flyingDay.from === "sunrise" ? sun.horizon : sun.civil;
    const closing = flyingDay.to === "sunset" ? sun.horizon : sun.civil;
    if (opening.kind === "below" || closing.kind === "below") return [];
    const startMin =
      opening.kind === "crosses"
        ? opening.upMin + flyingDay.fromOffsetMin
        : calendar.minOfDate(dateOfDay(calendar, day));
    const endMin =
      closing.kind === "crosses"
        ? closing.downMin + flyingDay.toOffsetMin
        : calendar.minOfDate(dateOfDay(calendar, day + 1));
    return [{ startMin, endMin }];
  });
  return union(spans);
}

export function daylightRule(flying: readonly Interval[], calendar: Calendar): MinuteRule {
  return {
    limit: "daylight",
    stops: gaps(flying, 0, calendar.horizonMin),
    judgeAt: (min) => {
      if (intervalAt(flying, min)) return undefined;
      const next = flying.find(({ startMin }) => startMin > min && startMin < min + minutesPerDay);
      const last = flying.findLast(({ endMin }) => endMin <= min && endMin > min - minutesPerDay);
      const words = [
        last && `the last ended at ${calendar.clockOfMin(last.endMin)}`,
        next && `the next begins at ${calendar.clockOfMin(next.startMin)}`,
      ].filter((part) => part !== undefined);
      return {
        limit: "daylight",
        actual: calendar.clockOfMin(min),
        allowed: next ? `from ${calendar.clockOfMin(next.startMin)}` : "not today",
        unit: "",
        sentence: `outside the flying day: ${words.length > 0 ? words.join(", ") : "there is none within 24 h"}`,
      };
    },
  };
}
