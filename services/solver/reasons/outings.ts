import { planFromMin } from "../begun.ts";
import type { Problem } from "../problem.ts";

/** A crew and the hours in which it may be out. */
export interface Outing {
  readonly crew: number;
  readonly day: number;
  readonly fromMin: number;
  readonly toMin: number;
  readonly days: readonly number[];
}

/** A crew's shifts, and all days round the clock; of what has passed when the plan is made nothing. */
export function outingsOf({ calendar, slots, slotsOfCrew, begun, operation }: Problem, crew: number) {
  const inShifts = slotsOfCrew[crew]!.map((slot): Outing => {
    const { day, shiftFromMin, shiftToMin, days } = slots[slot]!;
    return { crew, day, fromMin: Math.max(shiftFromMin, begun.freeFromMin[slot]!), toMin: shiftToMin, days };
  });
  const allDay = calendar.dates.map(
    (_, day): Outing => ({
      crew,
      day,
      fromMin: Math.max(calendar.dayStartMin[day]!, planFromMin(operation.settings, calendar)),
      toMin: calendar.dayStartMin[day + 1]!,
      days: [day],
    }),
  );
  return { inShifts, allDay };
}

/** One crew of all that are alike but for their names; with locks, which name crews, all of them. */
export function crewKindsOf({ crews, locks }: Problem): number[] {
  if (locks.slots.length + locks.lost.length > 0) return crews.map((_, crew) => crew);
  const first = new Map<string, number>();
  crews.forEach(({ baseId, maxAircraft, nightWork, dutyMaxHoursPerDay, dutyMaxHoursPerWeek, shifts, people }, crew) => {
    const flown = people.map(({ ratings, licenceClasses, aircraftAtOnce }) => [
      ratings,
      licenceClasses,
      aircraftAtOnce,
    ]);
    const hours = [nightWork, dutyMaxHoursPerDay, dutyMaxHoursPerWeek, shifts];
    const key = JSON.stringify([baseId, maxAircraft, hours, flown]);
    if (!first.has(key)) first.set(key, crew);
  });
  return [...first.values()];
}
