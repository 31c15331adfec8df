import { addDays, type Calendar, daysBetween, minutesPerHour } from "../model/calendar.ts";
import type { Crew } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import { sleepsAt } from "../plan/nights.ts";
import type { CrewDay } from "../plan/plan.ts";
import type { Happened, ToldStop } from "./happened.ts";
import type { SortedStops } from "./sortStops.ts";

/** A crew-day that people were told of, with when it leaves and is back in the minutes of the operation. */
interface ToldDay {
  readonly crewDay: CrewDay;
  readonly startMin: number;
  readonly endMin: number;
  /** Whether any of its stops has begun, as far as is known. */
  readonly wasOut: boolean;
}

export function toldDays({ stops, earlier }: Happened): ToldDay[] {
  // What was told last of a crew's day goes.
  const days = new Map<string, ToldDay>();
  for (const { crewDay, startMin, work, state } of [...earlier, ...stops]) {
    const laterMin = startMin - work.startMin;
    const key = `${crewDay.crewId} ${crewDay.date}`;
    const known = days.get(key);
    days.set(key, {
      crewDay,
      // A crew that was out already left when it was told first.
      startMin: Math.min(
        crewDay.activities[0]!.startMin + laterMin,
        known?.wasOut ? known.startMin : Number.POSITIVE_INFINITY,
      ),
      endMin: crewDay.activities.at(-1)!.endMin + laterMin,
      wasOut: (known?.wasOut ?? false) || state !== "notBegun",
    });
  }
  return [...days.values()];
}

/** The date of the moment, or an earlier one from which a crew is not back yet, or sleeps away from home up to then. */
export function firstDayLeft(
  operation: Operation,
  days: readonly ToldDay[],
  calendar: Calendar,
  asOfMin: number,
): string {
  const { settings, fleet } = operation;
  const lastDay = addDays(settings.firstDay, settings.days - 1);
  let first: string = latest(settings.firstDay, calendar.dateOfMin(asOfMin));
  if (first > lastDay) first = lastDay;
  const isHeld = ({ crewDay, endMin, wasOut }: ToldDay) => {
    const home = fleet.crews.find(({ id }) => id === crewDay.crewId)?.baseId;
    const isAway = home !== undefined && sleepsAt(crewDay) !== home;
    return wasOut && crewDay.date < first && (endMin > asOfMin || (isAway && crewDay.date === addDays(first, -1)));
  };
  for (let held = days.find(isHeld); held !== undefined && first > settings.firstDay; held = days.find(isHeld)) {
    first = latest(held.crewDay.date, settings.firstDay);
  }
  return first;
}

const daysLookedBack = 6;

/**
 * The crew with its duty on days before the first, and with rest after the last of them. A crew that was out today, and whose work of today is not in the plan, goes on with what is left of its
 * shift and its duty; what it has worked counts as of the day before, which is a day early for the week.
 */
export function crewLeft(
  crew: Crew,
  days: readonly ToldDay[],
  sorted: SortedStops,
  happened: Happened,
  firstDay: string,
  calendar: Calendar,
  asOfMin: number,
): Crew {
  const own = days.filter(({ crewDay, wasOut }) => wasOut && crewDay.crewId === crew.id);
  const past = own.filter(({ crewDay }) => crewDay.date < firstDay);
  const cutShort = own.filter(
    ({ crewDay }) => crewDay.date >= firstDay && ![...sorted.locked].some((stop) => stop.crewDay === crewDay),
  );
  const worked = [
    ...(crew.dutyBefore ?? []),
    ...past.map(({ crewDay, startMin, endMin }) => duty(crewDay.date, endMin - startMin)),
    ...cutShort.map(({ startMin }) => duty(addDays(firstDay, -1), asOfMin - startMin)),
  ].filter(({ date, hours }) => daysBetween(date, firstDay) <= daysLookedBack && hours > 0);
  const backMin = Math.max(...past.map(({ endMin }) => endMin), Number.NEGATIVE_INFINITY);
  let shifts = crew.shifts;
  const restedMin = backMin + crew.restMinHours * minutesPerHour;
  shifts = shifts.flatMap((shift) => {
    if (shift.date < firstDay) return [];
    const isOvernight = shift.to <= shift.from;
    const fromMin = calendar.minOfLocal(`${shift.date}T${shift.from}`);
    const toMin = calendar.minOfLocal(`${isOvernight ? addDays(shift.date, 1) : shift.date}T${shift.to}`);
    const today = cutShort.find(({ crewDay }) => crewDay.date === shift.date);
    const leaveMin = Math.max(fromMin, restedMin, today === undefined ? fromMin : busyUntil(happened, today, asOfMin));
    const returnMin = Math.min(
      toMin,
      today === undefined ? toMin : today.startMin + crew.dutyMaxHoursPerDay * minutesPerHour,
    );
    if (leaveMin === fromMin && returnMin === toMin) return [shift];
    // A shift is named by the day on which it begins.
    const isStillToday = calendar.dateOfMin(leaveMin) === shift.date && returnMin - leaveMin < 24 * minutesPerHour;
    if (leaveMin >= returnMin || !isStillToday) return [];
    const clockOf = (min: number) => calendar.clockOfMin(min) as typeof shift.from;
    return [{ ...shift, from: clockOf(Math.ceil(leaveMin)), to: clockOf(Math.floor(returnMin)) }];
  });
  return { ...crew, shifts, ...(worked.length > 0 ? { dutyBefore: worked } : {}) };
}

function duty(date: string, minutes: number) {
  return { date: date as Crew["shifts"][number]["date"], hours: Math.min(24, minutes / minutesPerHour) };
}

/** When a crew is through with what it is at. */
export function busyUntil({ stops }: Happened, { crewDay }: Pick<ToldDay, "crewDay">, asOfMin: number): number {
  const ends = stops.filter((stop) => stop.crewDay === crewDay && stop.state === "running").map(runsUntil);
  return Math.max(asOfMin, ...ends);
}

/** A stop that began later than told ends as much later. */
export function runsUntil({ startedMin, startMin, endMin }: ToldStop): number {
  return endMin + ((startedMin ?? startMin) - startMin);
}

/** Of two local dates. */
function latest(one: string, other: string): string {
  return [one, other].sort()[1]!;
}
