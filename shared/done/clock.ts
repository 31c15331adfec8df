import { type Calendar, daysBetween } from "../model/calendar.ts";
import { atMs } from "./standing.ts";
import type { KeptReport } from "./workReport.ts";

/** Our choice: a phone's clock may be so far ahead of ours before it is taken to be wrong. */
const clockToleranceMs = 5 * 60_000;

/** Whether the phone says that it happened after we have heard of it. */
export function isAhead(one: KeptReport): boolean {
  return atMs(one) > Date.parse(one.receivedAt) + clockToleranceMs;
}

/** Whether the phone's day is another than its crew-day's: a shift begins on its own day and may end on the next. */
export function isOfOtherDay({ date, report }: KeptReport, calendar: Calendar): boolean {
  return Math.abs(daysBetween(date, calendar.dateOfMin(calendar.minOfInstant(report.at)))) > 1;
}
