import type { Calendar } from "../model/calendar.ts";

/** A minute of the horizon as people read it. On the night of a clock change only `iso` tells two equal clocks apart. */
export interface LocalTime {
  readonly min: number;
  readonly date: string;
  readonly clock: string;
  readonly iso: string;
}

export function localTimeOf(calendar: Calendar, min: number): LocalTime {
  return {
    min,
    date: calendar.dateOfMin(min),
    clock: calendar.clockOfMin(min),
    iso: calendar.isoOfMin(min),
  };
}

const minutesPerPlainDay = 1440;

/** Minutes by which the clocks go forward (positive) or back (negative) on the date; 0 on a plain day. */
export function clockShiftMin(calendar: Calendar, date: string, nextDate: string): number {
  return minutesPerPlainDay - (calendar.minOfDate(nextDate) - calendar.minOfDate(date));
}
