import type { Calendar } from "../model/calendar.ts";
import type { Interval } from "./intervals.ts";

/** An interval with the local times at which it starts and ends, as every answer in JSON tells it. */
export function withClock<Span extends Interval>(calendar: Calendar, span: Span) {
  return { ...span, start: calendar.isoOfMin(span.startMin), end: calendar.isoOfMin(span.endMin) };
}
