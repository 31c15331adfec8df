import type { Calendar } from "./calendar.ts";

/** The minutes at which the clocks show a local time, in order: none when they are put forward over it, two when they are put back over it. */
export function readingsOf(calendar: Calendar, localDateTime: string): number[] {
  const first = calendar.minOfLocal(localDateTime);
  if (`${calendar.dateOfMin(first)}T${calendar.clockOfMin(first)}` !== localDateTime) return [];
  const last = calendar.lastMinOfLocal(localDateTime);
  return first === last ? [first] : [first, last];
}

/** The local time of day, with which of the two it is where the clocks show it twice. As: 05:30, 02:30 (second time). */
export function clockTold(calendar: Calendar, min: number): string {
  const clock = calendar.clockOfMin(min);
  const [, second] = readingsOf(calendar, `${calendar.dateOfMin(min)}T${clock}`);
  return second === undefined ? clock : `${clock} (${min < second ? "first" : "second"} time)`;
}

/** What a local time must be to be answered for. */
export function shownTimeWords({ timeZone }: Pick<Calendar, "timeZone">, localDateTime: string): string {
  return `a time that the clocks of ${timeZone} show; they are put forward over ${localDateTime}`;
}
