import type { Aircraft, Crew } from "../../../../../shared/model/fleet.ts";

/** First and last day, both out. */
export interface DaySpan {
  readonly from: string;
  readonly to: string;
}

/** The aircraft with the days on which it cannot be used; days that touch or overlap are one span. */
export function aircraftOut(aircraft: Aircraft, out: DaySpan, dayAfter: (date: string) => string): Aircraft {
  const spans = [...aircraft.outOfService, out].sort((a, b) => a.from.localeCompare(b.from));
  const merged: DaySpan[] = [];
  for (const span of spans) {
    const last = merged.at(-1);
    if (last !== undefined && span.from <= dayAfter(last.to)) {
      merged[merged.length - 1] = { from: last.from, to: [last.to, span.to].sort().at(-1)! };
    } else merged.push({ from: span.from, to: span.to });
  }
  return { ...aircraft, outOfService: merged };
}

/** The crew without its shifts on these days; null: it has none on them. */
export function crewOut(crew: Crew, { from, to }: DaySpan): Crew | null {
  const shifts = crew.shifts.filter(({ date }) => date < from || date > to);
  return shifts.length === crew.shifts.length ? null : { ...crew, shifts };
}
