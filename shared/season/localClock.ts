import type { Calendar } from "../model/calendar.ts";
import { readingsOf } from "../model/clockReadings.ts";

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
  return readingsOf(calendar, local).length > 0 ? local : localOf(calendar, minAtOrAfter(calendar, local));
}
