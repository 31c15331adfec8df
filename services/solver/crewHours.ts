import { kindsOf } from "./kinds.ts";
import { kitOf } from "./kits.ts";
import { isAwayAfter } from "./nights.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";

/** The start of the shift, or the end of the rest after the crew's day before; when it slept away, of charging too. */
export function earliestLeave(problem: Problem, state: State, slot: number): number {
  const { crew, shiftFromMin } = problem.slots[slot]!;
  let earliest = shiftFromMin;
  for (const other of problem.slotsOfCrew[crew]!) {
    if (other < slot && state.count[other]! > 0)
      earliest = Math.max(earliest, Math.ceil(state.backMin[other]! + nightMin(problem, state, other)));
  }
  return earliest;
}

/** What lies at least between a slot's day and the crew's next one. */
function nightMin(problem: Problem, state: State, slot: number): number {
  const restMin = problem.crews[problem.slots[slot]!.crew]!.restMinHours * 60;
  const kit = isAwayAfter(state, slot) ? kitOf(state, slot) : null;
  if (kit === null) return restMin;
  let chargingMin = 0;
  for (const { signature } of kindsOf(kit)) {
    const { charge, sets } = problem.signatures.at(signature);
    if (charge !== null) chargingMin += Math.ceil(sets / charge.bays) * charge.chargeMin;
  }
  return Math.max(restMin, chargingMin);
}

/** The end of the shift, or the beginning of the rest before the crew's next day. */
export function latestBack(problem: Problem, state: State, slot: number): number {
  const { crew, shiftToMin } = problem.slots[slot]!;
  let latest = shiftToMin;
  const restMin = nightMin(problem, state, slot);
  for (const other of problem.slotsOfCrew[crew]!) {
    if (other > slot && state.count[other]! > 0)
      latest = Math.min(latest, Math.floor(state.leaveMin[other]! - restMin));
  }
  return latest;
}

/** Duty over every seven days in a row that hold the slot's day. */
export function weekHolds(problem: Problem, state: State, slot: number, dutyMin: number): boolean {
  const { crew, day } = problem.slots[slot]!;
  const slots = problem.slotsOfCrew[crew]!;
  const mostMin = problem.crews[crew]!.dutyMaxHoursPerWeek * 60;
  const before = problem.dutyBeforeMin[crew]!;
  for (let first = day - 6; first <= day; first++) {
    let sumMin = dutyMin;
    for (let past = first; past < 0; past++) sumMin += before[-past] ?? 0;
    for (const other of slots) {
      const otherDay = problem.slots[other]!.day;
      if (other !== slot && otherDay >= first && otherDay < first + 7 && state.count[other]! > 0) {
        sumMin += state.backMin[other]! - state.leaveMin[other]!;
      }
    }
    if (sumMin > mostMin) return false;
  }
  return true;
}
