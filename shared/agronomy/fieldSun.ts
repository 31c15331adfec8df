import type { Calendar } from "../model/calendar.ts";
import { addDays } from "../model/days.ts";
import type { SunDay } from "./sun.ts";

/** The sun over one field, by day of the horizon; days before and after it are asked for too. */
export type SunOfDay = (dayIndex: number) => SunDay;

export function dateOfDay(calendar: Pick<Calendar, "dates">, dayIndex: number): string {
  return calendar.dates[dayIndex] ?? addDays(calendar.dates[0]!, dayIndex);
}

/** Days whose sun can reach into the horizon or the day after it, in which a late shift may still end. */
export function daysAround(calendar: Pick<Calendar, "dates">): number[] {
  return Array.from({ length: calendar.dates.length + 4 }, (_, index) => index - 2);
}
