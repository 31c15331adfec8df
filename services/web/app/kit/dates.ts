import { addDays } from "../../../../shared/model/days.ts";
import { common } from "../strings/common.ts";

const written = (date: string, options: Intl.DateTimeFormatOptions) =>
  // Bare dates are read as UTC and written as UTC: they have no time zone.
  new Date(`${date}T00:00:00Z`).toLocaleDateString("en-GB", { timeZone: "UTC", ...options });

/** `Monday 14 June` of an ISO date. */
export const dayWords = (date: string): string =>
  `${written(date, { weekday: "long" })} ${written(date, { day: "numeric", month: "long" })}`;

/** Drawn for every row of long tables, so each form is made once. */
const forms = {
  weekday: new Intl.DateTimeFormat("en-GB", { weekday: "short", timeZone: "UTC" }),
  day: new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: "UTC" }),
  dayOfYear: new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" }),
};

function shortWords(local: string, ofDay: Intl.DateTimeFormat): string {
  const [date = "", clock] = local.split("T");
  const day = new Date(`${date}T00:00:00Z`);
  // What somebody else has mistyped stays readable.
  if (Number.isNaN(day.getTime())) return local;
  // Weekday and day by themselves: together they would be parted by a comma.
  return [forms.weekday.format(day), ofDay.format(day), clock?.slice(0, 5)].filter(Boolean).join(" ");
}

/** `Mon 14 Jun` of a date, `Mon 14 Jun 05:30` of a local time: where the year is plain. */
export const shortDayWords = (local: string): string => shortWords(local, forms.day);

/** `Mon 14 Jun 2027`, likewise. */
export const shortDayWordsWithYear = (local: string): string => shortWords(local, forms.dayOfYear);

/** `end of Tue 15 Jun` of what has to be done before Wednesday begins: to people, midnight belongs to the day that it ends. */
export function deadlineWords(local: string): string {
  const [date = "", clock = ""] = local.split("T");
  if (!clock.startsWith("00:00") || Number.isNaN(Date.parse(date))) return shortDayWords(local);
  return common.endOf(shortDayWords(addDays(date, -1)));
}

export const daysBetweenDates = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 86_400_000;
