import { DateTime } from "luxon";
import { addDays, minutesPerHour } from "./days.ts";
import { remember } from "./remember.ts";
import type { Settings } from "./settings.ts";

export { addDays, daysBetween, minutesPerHour } from "./days.ts";

/**
 * The operation's time: whole minutes that really pass, counted from local midnight of the first day.
 * A local day has 1380 or 1500 of them when the clocks change.
 */
export interface Calendar {
  readonly timeZone: string;
  /** ISO dates of the horizon, in order. */
  readonly dates: readonly string[];
  /** dayStartMin[d] is local midnight of day d; one more entry closes the horizon. */
  readonly dayStartMin: readonly number[];
  readonly horizonMin: number;
  /** Minute of a local date and time as 2027-06-07T05:30; outside the horizon it is negative or beyond its end. Of a time that the clocks show twice, the first. */
  minOfLocal(localDateTime: string): number;
  /** The same, of a time that the clocks show twice the second: for the end of what protects people. */
  lastMinOfLocal(localDateTime: string): number;
  /** Minute of local midnight at which the date begins, also outside the horizon. */
  minOfDate(localDate: string): number;
  /** Minute of an instant as 2027-06-07T03:30:00Z or with an offset. */
  minOfInstant(iso: string): number;
  /** Local date that minute lies in. */
  dateOfMin(min: number): string;
  /** Index of the local day within the horizon, or -1. */
  dayOfMin(min: number): number;
  /** Local time of day as 05:30. */
  clockOfMin(min: number): string;
  /** Local date and time with offset, ISO 8601. */
  isoOfMin(min: number): string;
  /** Milliseconds since 1970 UTC. */
  epochMsOfMin(min: number): number;
}

/** A day on which the clocks do not change. */
const plainDayMin = 24 * minutesPerHour;

export function createCalendar(settings: Pick<Settings, "timeZone" | "firstDay" | "days">): Calendar {
  const zone = settings.timeZone;
  // Where the clocks show a time twice, luxon takes the reading that fits today's offset; a plan must not depend on today.
  const firstMidnight = DateTime.fromISO(settings.firstDay, { zone }).startOf("day");
  const originMs = Math.min(...firstMidnight.getPossibleOffsets().map((reading) => reading.toMillis()));
  const minOfMs = (ms: number) => Math.round((ms - originMs) / 60000);
  const minutesOf = (time: DateTime) => time.getPossibleOffsets().map((reading) => minOfMs(reading.toMillis()));
  // Resolving a local time is slow and the same few are asked for over and over.
  const minOfDate = remember((date: string) => Math.min(...minutesOf(DateTime.fromISO(date, { zone }).startOf("day"))));
  const minOfLocal = remember((local: string) => Math.min(...minutesOf(DateTime.fromISO(local, { zone }))));
  const lastMinOfLocal = remember((local: string) => Math.max(...minutesOf(DateTime.fromISO(local, { zone }))));
  const dates = Array.from({ length: settings.days }, (_, day) => addDays(settings.firstDay, day));
  const dayStartMin = [...dates, addDays(settings.firstDay, settings.days)].map(minOfDate);
  const at = (min: number) => DateTime.fromMillis(originMs + min * 60000, { zone });
  const dayOfMin = (min: number) => {
    for (let day = 0; day < settings.days; day++) {
      if (min >= dayStartMin[day]! && min < dayStartMin[day + 1]!) return day;
    }
    return -1;
  };

  return {
    timeZone: zone,
    dates,
    dayStartMin,
    horizonMin: dayStartMin[settings.days]!,
    minOfLocal,
    lastMinOfLocal,
    minOfDate,
    minOfInstant: (iso) => minOfMs(Date.parse(iso)),
    dateOfMin: (min) => dates[dayOfMin(min)] ?? at(min).toISODate()!,
    dayOfMin,
    clockOfMin: (min) => {
      const day = dayOfMin(min);
      if (day < 0 || dayStartMin[day + 1]! - dayStartMin[day]! !== plainDayMin) return at(min).toFormat("HH:mm");
      const sinceMidnightMin = Math.floor(min - dayStartMin[day]!);
      return `${twoDigits(Math.floor(sinceMidnightMin / 60))}:${twoDigits(sinceMidnightMin % 60)}`;
    },
    isoOfMin: (min) => at(min).toISO({ suppressMilliseconds: true })!,
    epochMsOfMin: (min) => originMs + min * 60000,
  };
}

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}
