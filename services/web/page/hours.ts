import type { LocalTime } from "../../../shared/plan/localTime.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";

/** The hours that every strip of the week shows, so that the same hour stands in one line from day to day. */
export interface HourRange {
  readonly fromHour: number;
  readonly toHour: number;
}

const plainRange: HourRange = { fromHour: 4, toHour: 22 };
const msPerDay = 86_400_000;

/** Hours by the clock since local midnight of the date; beyond 24 on the next day. */
export function hoursOnDate(time: Pick<LocalTime, "date" | "clock">, date: string): number {
  const [hour, minute] = time.clock.split(":").map(Number);
  const days = Math.round((Date.parse(time.date) - Date.parse(date)) / msPerDay);
  return days * 24 + hour! + minute! / 60;
}

/** From 4 to 22, wider when a crew is out earlier or later. */
export function hourRangeOf(week: Pick<WeekView, "crews">): HourRange {
  let { fromHour, toHour } = plainRange;
  for (const { days } of week.crews) {
    for (const { date, crewDay } of days) {
      if (crewDay === null) continue;
      fromHour = Math.min(fromHour, Math.floor(hoursOnDate(crewDay.leave, date)));
      toHour = Math.max(toHour, Math.ceil(hoursOnDate(crewDay.back, date)));
    }
  }
  return { fromHour, toHour };
}

/** Where an hour lies on the strip, in percent of its width, kept on the strip. */
export function percentOf(hours: number, { fromHour, toHour }: HourRange): number {
  const percent = ((hours - fromHour) / (toHour - fromHour)) * 100;
  return Math.min(100, Math.max(0, Math.round(percent * 1000) / 1000));
}
