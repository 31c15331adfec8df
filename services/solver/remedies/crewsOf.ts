import type { Crew } from "../../../shared/model/fleet.ts";
import type { Wanting } from "./candidate.ts";

/** Crews that could do the group's work: those that its conflicts name, or all where they name none. */
export function crewsOf({ operation, group }: Wanting): readonly Crew[] {
  const named = new Set(
    group.conflicts.flatMap(({ evidence }) => {
      const days = [...listOf(evidence.crewDays), evidence.fitsAlone, evidence.crewDay];
      return days.flatMap((day) => (typeof day === "object" && day !== null && "crewId" in day ? [day.crewId] : []));
    }),
  );
  const { crews } = operation.fleet;
  return named.size === 0 ? crews : crews.filter(({ id }) => named.has(id));
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
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
