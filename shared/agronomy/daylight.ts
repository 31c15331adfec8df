import type { Calendar } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import { dateOfDay, daysAround, type SunOfDay } from "./fieldSun.ts";
import { gaps, type Interval, intervalAt, union } from "./intervals.ts";
import type { MinuteRule } from "./minuteRule.ts";

const minutesPerDay = 1440;

/**
 * The hours in which flying needs no night work. Our choice: a sun that stays up gives the whole local day; a civil dusk or
 * dawn that twilight keeps from coming is taken midway between sunset and sunrise, where the two meet as nights grow lighter.
 */
export function flyingDays(
  sunOfDay: SunOfDay,
  flyingDay: Limits["flyingDay"],
  calendar: Pick<Calendar, "dates" | "minOfDate">,
): Interval[] {
  const midnightMin = (day: number) => calendar.minOfDate(dateOfDay(calendar, day));
  /**
   * Where the flying day turns in the night after a day that has no dusk or dawn: in the middle of it, or at local midnight, from
   * which no offset counts, where that has no sunset or no sunrise.
   */
  const turnMin = (day: number, offsetMin: number) => {
    const [before, after] = [sunOfDay(day).horizon, sunOfDay(day + 1).horizon];
    return before.kind === "crosses" && after.kind === "crosses"
      ? (before.downMin + after.upMin) / 2 + offsetMin
      : midnightMin(day + 1);
  };
  const { fromOffsetMin, toOffsetMin } = flyingDay;
  const spans = daysAround(calendar).flatMap((day) => {
    const { horizon, civil } = sunOfDay(day);
    if (horizon.kind === "above") return [{ startMin: midnightMin(day), endMin: midnightMin(day + 1) }];
    const opening = flyingDay.from === "sunrise" ? horizon : civil;
    const closing = flyingDay.to === "sunset" ? horizon : civil;
    if (opening.kind === "below" || closing.kind === "below") return [];
    return [
      {
        startMin: opening.kind === "crosses" ? opening.upMin + fromOffsetMin : turnMin(day - 1, fromOffsetMin),
        endMin: closing.kind === "crosses" ? closing.downMin + toOffsetMin : turnMin(day, toOffsetMin),
      },
    ];
  });
  // The middle of a night may lie within a minute, which days that meet there share.
  return union(spans).map(({ startMin, endMin }) => ({ startMin: Math.ceil(startMin), endMin: Math.floor(endMin) }));
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
