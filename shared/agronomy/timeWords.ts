import { DateTime } from "luxon";
import { type Calendar, daysBetween } from "../model/calendar.ts";
import { clockTold } from "../model/clockReadings.ts";
import type { Interval } from "./intervals.ts";

/** An interval for who asks about a minute: its end is seen from its beginning. */
export function spanSeenFrom({ startMin, endMin }: Interval, seenFromMin: number, calendar: Calendar): string {
  return `${startSeenFrom(startMin, seenFromMin, calendar)} to ${endSeenFrom(endMin, startMin, calendar)}`;
}

/** When something begins, for who asks about a minute: 09:40 on the same local day, Wednesday 09:40 within a week, and with the date beyond. */
export function startSeenFrom(min: number, seenFromMin: number, calendar: Calendar): string {
  return words(calendar.dateOfMin(min), clockTold(calendar, min), seenFromMin, calendar);
}

/** When something ends, likewise. A day's end is 24:00 of that day. */
export function endSeenFrom(min: number, seenFromMin: number, calendar: Calendar): string {
  const endedOn = calendar.dateOfMin(min - 1);
  const isDayEnd = calendar.clockOfMin(min) === "00:00" && calendar.dateOfMin(min) !== endedOn;
  return isDayEnd
    ? words(endedOn, "24:00", seenFromMin, calendar)
    : words(calendar.dateOfMin(min), clockTold(calendar, min), seenFromMin, calendar);
}

function words(date: string, clock: string, seenFromMin: number, calendar: Calendar): string {
  const seenOn = calendar.dateOfMin(seenFromMin);
  if (seenOn === date) return clock;
  return Math.abs(daysBetween(seenOn, date)) < 7
    ? `${formatDate(date, "cccc")} ${clock}`
    : `${dayAndDate(date)} ${clock}`;
}

/** As: Tuesday 15 June. */
export function dayAndDate(date: string): string {
  return formatDate(date, "cccc d LLLL");
}

function formatDate(date: string, format: string): string {
  return DateTime.fromISO(date, { zone: "utc", locale: "en-GB" }).toFormat(format);
}

export function hoursAndMinutes(minutes: number): string {
  return `${Math.floor(minutes / 60)} h ${String(Math.round(minutes % 60)).padStart(2, "0")} min`;
}
