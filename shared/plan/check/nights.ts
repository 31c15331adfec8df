import { addDays } from "../../model/calendar.ts";
import type { Activity } from "../plan.ts";
import type { Day, Facts } from "./facts.ts";

/** Where the first activity that names a place begins. */
export function placeBefore(activities: readonly Activity[]): string | undefined {
  for (const activity of activities) {
    if (activity.kind === "drive") return activity.from;
    if ("place" in activity) return activity.place;
  }
  return undefined;
}

/** Where the last activity that names a place ends. */
export function placeAfter(activities: readonly Activity[]): string | undefined {
  let place: string | undefined;
  for (const activity of activities) {
    if (activity.kind === "drive") place = activity.to;
    else if ("place" in activity) place = activity.place;
  }
  return place;
}

/** A base other than its own at which the crew may sleep and the day ends; undefined when the day ends at home or where it must not. */
export function awayBaseOf({ crew, crewDay }: Day): string | undefined {
  const place = placeAfter(crewDay.activities);
  return crew?.overnightBaseIds?.find((baseId) => baseId === place && baseId !== crew.baseId);
}

/** The crew's crew-day on the date before or after. */
export function dayOn({ days }: Facts, { crewDay }: Day, offset: 1 | -1): Day | undefined {
  const date = addDays(crewDay.date, offset);
  return days.find((other) => other.crewDay.crewId === crewDay.crewId && other.crewDay.date === date);
}

/** The base at which the crew woke up: its own, unless its crew-day of the date before ended at another. */
export function startBaseOf(facts: Facts, day: Day): string | undefined {
  const before = dayOn(facts, day, -1);
  return (before && awayBaseOf(before)) ?? day.crew?.baseId;
}

/** Until when the day keeps its things: through a night away. */
export function keepsUntilMin(facts: Facts, day: Day): number {
  const next = awayBaseOf(day) === undefined ? undefined : dayOn(facts, day, 1);
  return next === undefined ? day.endMin : Math.max(day.endMin, next.startMin);
}
