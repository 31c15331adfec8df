import { flyingDays } from "../../../../shared/agronomy/daylight.ts";
import { dateOfDay } from "../../../../shared/agronomy/fieldSun.ts";
import { sunDay } from "../../../../shared/agronomy/sun.ts";
import { addDays, daysBetween } from "../../../../shared/model/days.ts";
import { remember } from "../../../../shared/model/remember.ts";
import type { Settings } from "../../../../shared/model/settings.ts";
import { instantOfLocal } from "../kit/instants.ts";
import type { Span, StationHour } from "./stationHours.ts";

type Days = Pick<Settings, "days" | "firstDay" | "timeZone"> & {
  readonly limits: Pick<Settings["limits"], "flyingDay">;
};

/** When the flying day is open at the station, as the limit daylight has it: on the days of the plan and all that have weather. */
export function flyingSpans(hours: readonly StationHour[], { limits, timeZone, ...plan }: Days): readonly Span[] {
  const [first, last] = [hours[0], hours.at(-1)];
  if (first === undefined || last === undefined) return [];
  const { latDeg, lonDeg } = first.step;
  const [firstDay] = [first.date, plan.firstDay].sort() as [string, string];
  const days = Math.max(daysBetween(firstDay, last.date) + 1, daysBetween(firstDay, plan.firstDay) + plan.days);
  // Midnights by the browser's own clocks: the calendar of plans would bring a library of time zones along.
  const midnightMs = (date: string) => Date.parse(instantOfLocal(`${date}T00:00`, timeZone));
  const originMs = midnightMs(firstDay);
  const calendar = {
    dates: Array.from({ length: days }, (_, day) => addDays(firstDay, day)),
    minOfDate: (date: string) => Math.round((midnightMs(date) - originMs) / 60_000),
    epochMsOfMin: (min: number) => originMs + min * 60_000,
  };
  const sunOfDay = remember((day: number) => sunDay(calendar, dateOfDay(calendar, day), latDeg, lonDeg));
  const secondOf = (min: number) => calendar.epochMsOfMin(min) / 1000;
  return flyingDays(sunOfDay, limits.flyingDay, calendar).map(({ endMin, startMin }) => ({
    fromS: secondOf(startMin),
    toS: secondOf(endMin),
  }));
}
