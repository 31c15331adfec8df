import { daysBetween } from "./days.ts";

const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"] as const;
export type Weekday = (typeof weekdays)[number];

export function weekdayOf(date: string): Weekday {
  const aMonday = "2024-01-01";
  const daysSince = daysBetween(aMonday, date);
  return weekdays[((daysSince % 7) + 7) % 7]!;
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
export function dateWords(date: string): string {
  return `${weekdayOf(date)} ${dayAndMonth(date)} ${yearOf(date)}`;
}

/** `Mon 14 June`, with the year when it is another than that of the date that is read. */
export function shortDateWords(date: string, readOn: string): string {
  const words = `${weekdayOf(date).slice(0, 3)} ${dayAndMonth(date)}`;
  return yearOf(date) === yearOf(readOn) ? words : `${words} ${yearOf(date)}`;
}

function dayAndMonth(date: string): string {
  const [, month, day] = date.split("-").map(Number);
  return `${day} ${months[month! - 1]}`;
}

function yearOf(date: string): string {
  return date.slice(0, 4);
}
