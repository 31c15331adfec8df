import { addDays, minutesPerHour } from "../../model/calendar.ts";
import type { Crew } from "../../model/fleet.ts";
import { type Day, type Facts, isWithin } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";

/** The rules about the hours of people: the plan's days, shifts, duty and rest. */
export function checkHours(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    ledger.expect("horizon", facts.calendar.dates.includes(day.crewDay.date), day.subject, () => ({
      sentence: `${day.crewDay.date} is not one of the operation's days`,
      actual: day.crewDay.date,
      allowed: facts.calendar.dates.join(" "),
    }));
    const outside = day.crewDay.activities.find((activity) => !isWithin(activity, facts.reach));
    ledger.expect("horizon", outside === undefined, day.subject, () => ({
      sentence: `${outside!.kind} from minute ${outside!.startMin} to ${outside!.endMin} lies far outside the operation's days`,
      actual: `${outside!.startMin} to ${outside!.endMin}`,
      allowed: `${facts.reach.fromMin} to ${facts.reach.toMin}`,
    }));
    if (day.crew === undefined) continue;
    checkShift(facts, ledger, day, day.crew);
    const dutyMin = day.endMin - day.startMin;
    const allowedMin = day.crew.dutyMaxHoursPerDay * minutesPerHour;
    ledger.expect("dutyDay", dutyMin <= allowedMin + rounding, day.subject, () => ({
      sentence: `${shown(dutyMin / minutesPerHour)} h on duty, ${shown(allowedMin / minutesPerHour)} h are allowed in a day`,
      actual: dutyMin,
      allowed: allowedMin,
    }));
  }
  for (const crew of facts.operation.fleet.crews) {
    const days = facts.days.filter((day) => day.crewDay.crewId === crew.id);
    checkOneCrewDay(ledger, crew, days);
    checkDutyWeek(ledger, crew, days);
    checkRest(ledger, crew, days);
  }
}

function checkShift({ calendar }: Facts, ledger: Ledger, day: Day, crew: Crew): void {
  const { date } = day.crewDay;
  const shifts = crew.shifts.filter((shift) => shift.date === date);
  const spans = shifts.map(({ from, to }) => ({
    fromMin: calendar.minOfLocal(`${date}T${from}`),
    toMin: calendar.minOfLocal(`${to > from ? date : addDays(date, 1)}T${to}`),
  }));
  const isInside = spans.some(({ fromMin, toMin }) => fromMin <= day.startMin && day.endMin <= toMin);
  ledger.expect("shift", isInside, day.subject, () => ({
    sentence:
      shifts.length === 0
        ? `crew ${crew.id} has no shift on ${date}`
        : `crew ${crew.id} is out ${calendar.clockOfMin(day.startMin)} to ${calendar.clockOfMin(day.endMin)}, its shift is ${shifts[0]!.from} to ${shifts[0]!.to}`,
    actual: `${calendar.isoOfMin(day.startMin)} to ${calendar.isoOfMin(day.endMin)}`,
    allowed: shifts.map(({ from, to }) => `${from} to ${to}`).join(", "),
  }));
}

function checkOneCrewDay(ledger: Ledger, crew: Crew, days: readonly Day[]): void {
  for (const date of new Set(days.map((day) => day.crewDay.date))) {
    const count = days.filter((day) => day.crewDay.date === date).length;
    ledger.expect("oneCrewDay", count === 1, { crewId: crew.id, date }, () => ({
      sentence: `crew ${crew.id} has ${count} crew-days on ${date}`,
      actual: count,
      allowed: 1,
    }));
  }
}

function checkDutyWeek(ledger: Ledger, crew: Crew, days: readonly Day[]): void {
  const allowedMin = crew.dutyMaxHoursPerWeek * minutesPerHour;
  const worked = [
    ...(crew.dutyBefore ?? []).map(({ date, hours }) => ({ date: date as string, dutyMin: hours * minutesPerHour })),
    ...days.map((day) => ({ date: day.crewDay.date as string, dutyMin: day.endMin - day.startMin })),
  ];
  for (const date of new Set(worked.map((day) => day.date))) {
    const lastDate = addDays(date, 6);
    const inWeek = worked.filter((day) => day.date >= date && day.date <= lastDate);
    // What was worked before the plan is not the plan's to mend.
    if (!days.some((day) => day.crewDay.date >= date && day.crewDay.date <= lastDate)) continue;
    const dutyMin = inWeek.reduce((sum, day) => sum + day.dutyMin, 0);
    ledger.expect("dutyWeek", dutyMin <= allowedMin + rounding, { crewId: crew.id, date }, () => ({
      sentence: `crew ${crew.id} is ${shown(dutyMin / minutesPerHour)} h on duty in the seven days from ${date}, ${crew.dutyMaxHoursPerWeek} h are allowed`,
      actual: dutyMin,
      allowed: allowedMin,
    }));
  }
}

function checkRest(ledger: Ledger, crew: Crew, days: readonly Day[]): void {
  const allowedMin = crew.restMinHours * minutesPerHour;
  const sorted = [...days].sort((a, b) => a.startMin - b.startMin);
  for (const [index, day] of sorted.entries()) {
    const before = sorted[index - 1];
    if (before === undefined) continue;
    const restMin = day.startMin - before.endMin;
    ledger.expect("rest", restMin >= allowedMin - rounding, day.subject, () => ({
      sentence: `crew ${crew.id} rests ${shown(restMin / minutesPerHour)} h before ${day.crewDay.date}, at least ${crew.restMinHours} h are needed`,
      actual: restMin,
      allowed: allowedMin,
    }));
  }
}
