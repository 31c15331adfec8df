import { extraHourMin } from "../../../shared/cases/remedyChange.ts";
import { addDays, createCalendar, daysBetween } from "../../../shared/model/calendar.ts";
import type { Crew } from "../../../shared/model/fleet.ts";
import type { CrewDay } from "../../../shared/plan/plan.ts";
import { sumOf } from "../../../shared/plan/totals.ts";
import { byOffice, type Candidate, type Wanting } from "./candidate.ts";
import { crewsOf, datesOf } from "./crewsOf.ts";

/** Our choice: with less duty left than this nobody goes out, or stays longer. */
const leastDutyMin = 15;
/** Our choice: a day that ends so much before its shift does not want for a longer one. */
const nearMin = 120;

/** An hour more at either end of a shift, where the day comes near to it, and work on a day off; only while duty per day and week leave room. Rest and duty are the planner's to keep. */
export function extraHours(wanting: Wanting): Candidate[] {
  const { operation, plan } = wanting;
  const calendar = createCalendar(operation.settings);
  const dates = datesOf(wanting, calendar.dates);
  const found = crewsOf(wanting).flatMap((crew) =>
    dates.flatMap((date): { readonly idleMin: number; readonly candidate: Candidate }[] => {
      if (dutyLeftMin(crew, plan.crewDays, date) < leastDutyMin) return [];
      const shift = crew.shifts.find((one) => one.date === date);
      if (shift === undefined) {
        const usual = usualShift(crew, date);
        if (usual === null) return [];
        const change = { kind: "setShift" as const, crewId: crew.id, date, from: usual.from, to: usual.to };
        return [{ idleMin: 0, candidate: byOffice(change) }];
      }
      const day = plan.crewDays.find((one) => one.crewId === crew.id && one.date === date);
      const fromMin = calendar.minOfLocal(`${date}T${shift.from}`);
      const toMin = calendar.minOfLocal(`${shift.to > shift.from ? date : addDays(date, 1)}T${shift.to}`);
      const idleMin = {
        earlierMin: day === undefined ? 0 : day.activities[0]!.startMin - fromMin,
        laterMin: day === undefined ? 0 : toMin - day.activities.at(-1)!.endMin,
      };
      return (["laterMin", "earlierMin"] as const)
        .filter((end) => idleMin[end] <= nearMin)
        .map((end) => {
          const change = { kind: "longerShift" as const, crewId: crew.id, dates: [date] as [string] };
          const longer = { earlierMin: 0, laterMin: 0, [end]: extraHourMin };
          return { idleMin: idleMin[end], candidate: byOffice({ ...change, ...longer }) };
        });
    }),
  );
  return found.sort((a, b) => a.idleMin - b.idleMin).map(({ candidate }) => candidate);
}

/** Minutes of duty that the plan leaves a crew on a date, by its day and by every seven days in a row. */
function dutyLeftMin(crew: Crew, crewDays: readonly CrewDay[], date: string): number {
  const mine = crewDays.filter(({ crewId }) => crewId === crew.id);
  const dutyMin = ({ activities }: CrewDay) => activities.at(-1)!.endMin - activities[0]!.startMin;
  const onDay = sumOf(
    mine.filter((day) => day.date === date),
    dutyMin,
  );
  const inWeeks = Array.from({ length: 7 }, (_, before) => {
    const first = addDays(date, -before);
    return sumOf(
      mine.filter((day) => daysBetween(first, day.date) >= 0 && daysBetween(first, day.date) < 7),
      dutyMin,
    );
  });
  return Math.min(crew.dutyMaxHoursPerDay * 60 - onDay, crew.dutyMaxHoursPerWeek * 60 - Math.max(...inWeeks));
}

/** The hours of the crew's shift on the nearest day that has one. */
function usualShift({ shifts }: Crew, date: string) {
  const byDistance = [...shifts].sort(
    (a, b) => Math.abs(daysBetween(date, a.date)) - Math.abs(daysBetween(date, b.date)),
  );
  return byDistance[0] ?? null;
}
