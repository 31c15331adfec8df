import { addDays, type Calendar, minutesPerHour } from "../model/calendar.ts";
import { readingsOf } from "../model/clockReadings.ts";

const dateLength = "2027-06-07".length;

/** Whether the clocks change on a date: it has another length than 24 hours. */
export function clocksChangeOn(calendar: Calendar, date: string): boolean {
  return calendar.minOfDate(addDays(date, 1)) - calendar.minOfDate(date) !== 24 * minutesPerHour;
}

const localOf = (calendar: Calendar, min: number) => `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;

/** The first minute at which the clocks show this local time or, where they are put forward over it, a later one. */
export function minAtOrAfter(calendar: Calendar, local: string): number {
  const [first] = readingsOf(calendar, local);
  if (first !== undefined) return first;
  let min = calendar.minOfLocal(local);
  while (localOf(calendar, min - 1) > local) min--;
  return min;
}

/** The local time itself or, where the clocks are put forward over it, the first that they show afterwards. */
export function shownAtOrAfter(calendar: Calendar, local: string): string {
  // Working out a local time is slow, and on all but two days of a year every one is shown.
  if (!clocksChangeOn(calendar, local.slice(0, dateLength)) || readingsOf(calendar, local).length > 0) return local;
  return localOf(calendar, minAtOrAfter(calendar, local));
}
