import { addDays } from "../../../shared/model/calendar.ts";
import type { CrewDay } from "../../../shared/plan/plan.ts";
import { crewOf, type Draft, dutyMin, type Mutation, mutation, pick, pickInt } from "./mutation.ts";

function onDay(rule: Mutation["rule"], name: string, change: (draft: Draft, crewDay: CrewDay) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays);
    return crewDay !== undefined && change(draft, crewDay);
  });
}

function shiftOf(draft: Draft, crewDay: CrewDay) {
  return crewOf(draft, crewDay).shifts.find((shift) => shift.date === crewDay.date)!;
}

function startMin({ activities }: CrewDay): number {
  return activities[0]!.startMin;
}

function endMin({ activities }: CrewDay): number {
  return activities.at(-1)!.endMin;
}

export const hoursMutations: readonly Mutation[] = [
  onDay("horizon", "a day after the last", (draft, crewDay) => {
    crewDay.date = addDays(draft.calendar.dates.at(-1)!, pickInt(draft, 1, 5));
    return true;
  }),
  onDay("horizon", "a day before the first", (draft, crewDay) => {
    crewDay.date = addDays(draft.calendar.dates[0]!, -pickInt(draft, 1, 5));
    return true;
  }),
  onDay("horizon", "a work of thousands of years", (_, { activities }) => {
    const index = activities.findIndex(({ kind }) => kind === "work");
    for (const [at, activity] of activities.entries()) {
      if (at > index) activity.startMin += 2e9;
      if (at >= index) activity.endMin += 2e9;
    }
    return index >= 0;
  }),
  onDay("oneCrewDay", "the same day again", (draft, crewDay) => {
    draft.plan.crewDays.push(structuredClone(crewDay));
    return true;
  }),
  onDay("shift", "no shift on the day", (draft, crewDay) => {
    const crew = crewOf(draft, crewDay);
    crew.shifts = crew.shifts.filter((shift) => shift.date !== crewDay.date);
    return true;
  }),
  onDay("shift", "leaves before the shift begins", (draft, crewDay) => {
    // The clock time of a minute of the day itself, so that the shift still ends after it begins.
    const laterMin = startMin(crewDay) + pickInt(draft, 1, 30);
    if (draft.calendar.dateOfMin(laterMin) !== crewDay.date) return false;
    shiftOf(draft, crewDay).from = draft.calendar.clockOfMin(laterMin);
    return true;
  }),
  onDay("shift", "is back after the shift has ended", (draft, crewDay) => {
    const shift = shiftOf(draft, crewDay);
    const earlierMin = endMin(crewDay) - pickInt(draft, 1, 30);
    const to = draft.calendar.clockOfMin(earlierMin);
    if (draft.calendar.dateOfMin(earlierMin) === crewDay.date && to <= shift.from) return false;
    if (draft.calendar.dateOfMin(earlierMin) > crewDay.date && to > shift.from) return false;
    shift.to = to;
    return true;
  }),
  onDay("shift", "on the date of another shift", (draft, crewDay) => {
    const others = draft.calendar.dates.filter((date) => date !== crewDay.date);
    const date = pick(draft, others);
    if (date === undefined) return false;
    crewDay.date = date;
    return true;
  }),
  onDay("dutyDay", "a minute too long on duty", (draft, crewDay) => {
    crewOf(draft, crewDay).dutyMaxHoursPerDay = (dutyMin(crewDay) - pickInt(draft, 1, 60)) / 60;
    return true;
  }),
  onDay("dutyWeek", "a minute too long on duty in seven days", (draft, crewDay) => {
    const lastDate = addDays(crewDay.date, 6);
    const weekMin = draft.plan.crewDays
      .filter(({ crewId, date }) => crewId === crewDay.crewId && date >= crewDay.date && date <= lastDate)
      .reduce((sum, day) => sum + dutyMin(day), 0);
    crewOf(draft, crewDay).dutyMaxHoursPerWeek = (weekMin - 1) / 60;
    return true;
  }),
  mutation("rest", "a minute too little rest", (draft) => {
    const pairs = draft.plan.crewDays.flatMap((before) => {
      const after = draft.plan.crewDays
        .filter((day) => day.crewId === before.crewId && startMin(day) >= endMin(before))
        .sort((a, b) => startMin(a) - startMin(b))[0];
      return after === undefined ? [] : [{ before, after }];
    });
    const pair = pick(draft, pairs);
    if (pair === undefined) return false;
    const restMin = startMin(pair.after) - endMin(pair.before);
    crewOf(draft, pair.before).restMinHours = (restMin + pickInt(draft, 1, 60)) / 60;
    return true;
  }),
];
