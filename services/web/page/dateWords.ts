import type { LocalTime } from "../../../shared/plan/localTime.ts";

/** The clock, with the date before it when it is not the day that is being read. */
export function clockOn(time: LocalTime, date: string): string {
  return time.date === date ? time.clock : `${time.date} ${time.clock}`;
}

export function byClock({ start, end }: { readonly start: LocalTime; readonly end: LocalTime }, date: string): string {
  return `${clockOn(start, date)} to ${clockOn(end, date)}`;
}

const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** `Monday 14 June 2027` of an ISO date. */
export function dateWords({ date, weekday }: { readonly date: string; readonly weekday: string }): string {
  const [year, month, day] = date.split("-").map(Number);
  return `${weekday} ${day} ${months[month! - 1]} ${year}`;
}
