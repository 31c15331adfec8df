import type { Crew } from "../../../shared/model/fleet.ts";
import type { Wanting } from "./candidate.ts";

/** Crews that could do the group's work: those that its conflicts list, or all where one lists none. */
export function crewsOf({ operation, group }: Wanting): readonly Crew[] {
  const { crews } = operation.fleet;
  const listed = group.conflicts.map(({ evidence: { crewDays } }) => (Array.isArray(crewDays) ? crewDays : []));
  if (listed.some((days) => days.length === 0)) return crews;
  const ids = new Set(listed.flat().map((day: { crewId?: unknown }) => day.crewId));
  return crews.filter(({ id }) => ids.has(id));
}

/** Days on which some order of the group may be worked. */
export function datesOf({ operation, orders }: Wanting, dates: readonly string[]): readonly string[] {
  const { firstDay } = operation.settings;
  return dates.filter(
    (date) =>
      date >= firstDay &&
      orders.some(({ earliest, latest }) => date >= earliest.slice(0, 10) && `${date}T00:00` < latest),
  );
}
