import { earliestLeave, latestBack, weekHolds } from "./crewHours.ts";
import {
  createDayRun,
  createStanding,
  type DayRun,
  type RoughActivity,
  type Standing,
  standAtBase,
  walk,
} from "./dayWalk.ts";
import { fieldRulesHold } from "./fieldRules.ts";
import type { Kit, Problem } from "./problem.ts";
import { maxStops, type State } from "./state.ts";

/** How each slot's crew stands before each stop, for the version of the slot that it was worked out for. */
export interface Standings {
  readonly bySlot: readonly Standing[];
  readonly version: Int32Array;
}

export function createStandings(problem: Problem): Standings {
  return {
    bySlot: problem.slots.map(() => createStanding()),
    version: new Int32Array(problem.slots.length).fill(-1),
  };
}

const scratch = createStanding();

/**
 * Run slot k's stops through the day with kit, from the base. True when every rule holds; `run` then has times and cost. Stops begin as early as they
 * can; the crew leaves as late as its first stop allows.
 */
export function runDay(problem: Problem, state: State, slot: number, kit: Kit, run: DayRun): boolean {
  standAtBase(problem, slot, kit, earliestLeave(problem, state, slot), scratch);
  const latestMin = latestBack(problem, state, slot);
  return walk(problem, state, slot, kit, 0, latestMin, run, scratch, false, null) && settle(problem, state, slot, run);
}

/** Like `runDay`, for the slot's stops as they stand with `extra` put in before place `at`, walking only from there on. */
export function runDayWith(
  problem: Problem,
  state: State,
  standings: Standings,
  slot: number,
  extra: number,
  at: number,
  run: DayRun,
): boolean {
  const held = slot * maxStops;
  const count = state.count[slot]!;
  if (count === maxStops) return false;
  const standing = standings.bySlot[slot]!;
  run.count = count + 1;
  for (let i = 0; i < at; i++) {
    run.stops[i] = state.sequence[held + i]!;
    run.starts[i] = standing.starts[i]!;
    run.ends[i] = standing.ends[i]!;
  }
  run.stops[at] = extra;
  for (let i = at; i < count; i++) run.stops[i + 1] = state.sequence[held + i]!;
  const kit = state.kit[slot]!;
  const latestMin = latestBack(problem, state, slot);
  return (
    walk(problem, state, slot, kit, at, latestMin, run, standing, false, null) && settle(problem, state, slot, run)
  );
}

/** Make the slot's standings true to its version. False when the stops no longer run, because the crew's other days moved. */
export function bringUpToDate(problem: Problem, state: State, standings: Standings, slot: number): boolean {
  if (standings.version[slot] === state.version[slot]) return true;
  const kit = state.kit[slot]!;
  const standing = standings.bySlot[slot]!;
  standAtBase(problem, slot, kit, earliestLeave(problem, state, slot), standing);
  loadStops(state, slot, upToDateRun);
  const latestMin = latestBack(problem, state, slot);
  if (!walk(problem, state, slot, kit, 0, latestMin, upToDateRun, standing, true, null)) return false;
  standings.version[slot] = state.version[slot]!;
  return true;
}
const upToDateRun = createDayRun();

export function loadStops(state: State, slot: number, run: DayRun): void {
  run.count = state.count[slot]!;
  for (let i = 0; i < run.count; i++) run.stops[i] = state.sequence[slot * maxStops + i]!;
}

/** Duty, and the rules between orders; adds wages and lateness to the cost. */
function settle(problem: Problem, state: State, slot: number, run: DayRun): boolean {
  const { crew: crewIndex, day } = problem.slots[slot]!;
  const crew = problem.crews[crewIndex]!;
  const dutyMin = run.backMin - run.leaveMin;
  if (dutyMin > crew.dutyMaxHoursPerDay * 60) return false;
  if (!weekHolds(problem, state, slot, dutyMin)) return false;
  if (!fieldRulesHold(problem, state, slot, run)) return false;

  const { costs, planning } = problem.operation.settings;
  const hours = dutyMin / 60;
  run.cents += hours * crew.costCentsPerHour;
  run.cents += Math.max(0, hours - crew.standardHoursPerDay) * crew.costCentsPerHour * (costs.overtimeFactor - 1);
  const midnightMin = problem.calendar.dayStartMin[day + 1]!;
  for (let i = 0; i < run.count; i++) {
    const block = problem.blocks[run.stops[i]!]!;
    const workDay = run.ends[i]! > midnightMin ? day + 1 : day;
    const lateDays = workDay - problem.orders[block.order]!.preferredDay;
    if (lateDays > 0) run.cents += planning.lateCentsPerHaDay * block.areaHa * lateDays;
  }
  return true;
}

/** The activities of a slot as it stands. */
export function listActivities(problem: Problem, state: State, slot: number): RoughActivity[] {
  const run = createDayRun();
  loadStops(state, slot, run);
  const kit = state.kit[slot]!;
  const activities: RoughActivity[] = [];
  if (kit !== null) standAtBase(problem, slot, kit, state.leaveMin[slot]!, scratch);
  if (kit === null || !walk(problem, state, slot, kit, 0, state.backMin[slot]!, run, scratch, false, activities)) {
    throw new Error(`slot ${slot} does not run as it was accepted`);
  }
  return activities;
}
