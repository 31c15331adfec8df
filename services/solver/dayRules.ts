import { dutyCents, lateCents } from "./chains.ts";
import { earliestLeave, latestBack, weekHolds } from "./crewHours.ts";
import { createStanding, type RoughActivity, type Standing, standAtBase, walk } from "./dayWalk.ts";
import { fieldRulesHold, fieldsAreClear } from "./fieldRules.ts";
import { kitOf } from "./kits.ts";
import { isInOrder } from "./locks.ts";
import { isAwayAfter } from "./nights.ts";
import type { Kit, Problem } from "./problem.ts";
import { changedCents } from "./published.ts";
import { riskCents } from "./risk.ts";
import type { DayRules, DayRun, State } from "./routes.ts";
import { createDayRun } from "./state.ts";

/**
 * The days of an operation with all their rules. Stops begin as early as they can; then, if the crew waits on the way, it leaves as late as lets it be back at the same
 * minute.
 */
export function createDayRules(problem: Problem, state: State): DayRules {
  const { stride, slotCount } = state.routes;
  /** How each slot's crew stands before each stop, for the version of the slot that it was worked out for. */
  const standings: (Standing | undefined)[] = new Array(slotCount);
  const version = new Int32Array(slotCount).fill(-1);
  /** From when the crew could leave then: its day before may have moved since. */
  const leaveFromMin = new Float64Array(slotCount);
  const upToDate = createDayRun(stride);
  const later = createDayRun(stride);
  const scratch = createStanding(stride);

  /** Make the slot's standing true to its version; null when the stops no longer run, because the crew's other days moved. */
  const standingOf = (slot: number, kit: Kit): Standing | null => {
    standings[slot] ??= createStanding(stride);
    const standing = standings[slot];
    const earliestMin = earliestLeave(problem, state, slot);
    if (version[slot] === state.version[slot] && leaveFromMin[slot] === earliestMin) return standing;
    version[slot] = -1;
    standAtBase(problem, state, slot, kit, earliestMin, standing);
    loadStops(state, slot, upToDate);
    if (!walk(problem, state, slot, kit, 0, latestBack(problem, state, slot), upToDate, standing, true, null))
      return null;
    version[slot] = state.version[slot]!;
    leaveFromMin[slot] = earliestMin;
    return standing;
  };

  const run = (slot: number, block: number, at: number, out: DayRun): boolean => {
    const kit = kitOf(state, slot)!;
    const latestMin = latestBack(problem, state, slot);
    if (block < 0) {
      loadStops(state, slot, out);
      standAtBase(problem, state, slot, kit, earliestLeave(problem, state, slot), scratch);
      if (!walk(problem, state, slot, kit, 0, latestMin, out, scratch, false, null)) return false;
    } else {
      const count = state.count[slot]!;
      if (count + 2 > stride) return false;
      const standing = standingOf(slot, kit);
      if (standing === null) return false;
      const held = slot * stride;
      out.count = count + 1;
      for (let i = 0; i < at; i++) {
        out.stops[i] = state.sequence[held + i]!;
        out.starts[i] = standing.starts[i]!;
        out.ends[i] = standing.ends[i]!;
        out.ready[i] = standing.ready[i]!;
      }
      out.stops[at] = block;
      for (let i = at; i < count; i++) out.stops[i + 1] = state.sequence[held + i]!;
      if (!walk(problem, state, slot, kit, at, latestMin, out, standing, false, null)) return false;
    }
    out.earliest.set(out.ends);
    leaveLater(problem, state, slot, kit, latestMin, out, later, scratch);
    return settle(problem, state, slot, out);
  };
  return { run };
}

function loadStops(state: State, slot: number, run: DayRun): void {
  run.count = state.count[slot]!;
  const held = slot * state.routes.stride;
  for (let i = 0; i < run.count; i++) run.stops[i] = state.sequence[held + i]!;
}

/** Where a crew waits on the way it may leave later and still be back at the same minute, as far as the windows of its stops allow. */
function leaveLater(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  latestMin: number,
  run: DayRun,
  later: DayRun,
  scratch: Standing,
): void {
  let waits = false;
  for (let i = 1; i < run.count && !waits; i++) waits = run.starts[i]! > run.ready[i]!;
  if (!waits) return;
  const { day } = problem.slots[slot]!;
  const { routes } = state;
  const profile = routes.profiles[kit.profile]!;
  let startMin = run.starts[run.count - 1]!;
  for (let i = run.count - 2; i >= 0; i--) {
    const minutes = run.ends[i]! - run.starts[i]!;
    const gapMin = run.ready[i + 1]! - run.ends[i]!;
    const at = profile.variant[run.stops[i]!]! * routes.days + day;
    let closeMin = run.ends[i]!;
    const isFixed = problem.locks.startMin[run.stops[i]!]! >= 0;
    for (let w = routes.windowFirst[at]!; w < routes.windowLast[at]! && !isFixed; w += 2) {
      if (routes.windowTimes[w]! <= run.starts[i]! && run.ends[i]! <= routes.windowTimes[w + 1]!) {
        closeMin = routes.windowTimes[w + 1]!;
      }
    }
    startMin = Math.min(startMin - gapMin, closeMin) - minutes;
  }
  const delayMin = Math.floor(startMin - run.starts[0]!);
  if (delayMin <= 0) return;
  later.count = run.count;
  for (let i = 0; i < run.count; i++) later.stops[i] = run.stops[i]!;
  standAtBase(problem, state, slot, kit, run.leaveMin + delayMin, scratch);
  if (!walk(problem, state, slot, kit, 0, latestMin, later, scratch, false, null)) return;
  if (later.backMin - later.leaveMin >= run.backMin - run.leaveMin) return;
  for (let i = 0; i < run.count; i++) {
    run.starts[i] = later.starts[i]!;
    run.ends[i] = later.ends[i]!;
  }
  run.leaveMin = later.leaveMin;
  run.backMin = later.backMin;
  run.cents = later.cents;
}

/** Duty, and the rules between orders; adds to the cost wages and what depends on when each stop is. */
function settle(problem: Problem, state: State, slot: number, run: DayRun): boolean {
  const { routes } = state;
  const dutyMin = run.backMin - run.leaveMin;
  if (dutyMin > routes.dutyMaxMin[slot]!) return false;
  if (!weekHolds(problem, state, slot, dutyMin)) return false;
  if (problem.locks.lockOf[slot]?.lock.inOrder && !isInOrder(problem.locks, run.stops, run.count)) return false;
  if (!fieldsAreClear(problem, state, slot, run) || !fieldRulesHold(problem, state, slot, run)) return false;
  run.cents += dutyCents(routes, slot, dutyMin);
  const { day, crew } = problem.slots[slot]!;
  if (isAwayAfter(state, slot)) run.cents += problem.crews[crew]!.nightAwayCents ?? 0;
  const midnightMin = problem.calendar.dayStartMin[day + 1]!;
  const { published, risk } = problem;
  for (let i = 0; i < run.count; i++) {
    const block = run.stops[i]!;
    run.cents += lateCents(routes, block, run.ends[i]! > midnightMin ? day + 1 : day);
    if (published !== null) run.cents += changedCents(published, block, slot, run.starts[i]!);
    if (risk !== null) run.cents += riskCents(risk, problem.blocks[block]!.areaHa, run.starts[i]!, run.ends[i]!);
  }
  return true;
}

/** The activities of a slot as it stands. */
export function listActivities(problem: Problem, state: State, slot: number): RoughActivity[] {
  const { stride } = state.routes;
  const run = createDayRun(stride);
  const standing = createStanding(stride);
  loadStops(state, slot, run);
  const kit = kitOf(state, slot);
  const activities: RoughActivity[] = [];
  if (kit !== null) standAtBase(problem, state, slot, kit, state.leaveMin[slot]!, standing);
  if (kit === null || !walk(problem, state, slot, kit, 0, state.backMin[slot]!, run, standing, false, activities)) {
    throw new Error(`slot ${slot} does not run as it was accepted`);
  }
  return activities;
}
