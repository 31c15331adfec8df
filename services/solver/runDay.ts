import type { Activity } from "../../shared/plan/plan.ts";
import type { Kit, Problem } from "./problem.ts";
import { maxStops, type State } from "./state.ts";

/** What running a crew-day through gives; starts and ends are by place in the sequence. */
export interface DayRun {
  cents: number;
  leaveMin: number;
  backMin: number;
  readonly stops: Int32Array;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  count: number;
}

/** An activity without the facts of the work itself, which only the finished plan needs. */
export type RoughActivity =
  | Exclude<Activity, { kind: "work" }>
  | { kind: "work"; startMin: number; endMin: number; block: number };

export function createDayRun(): DayRun {
  return {
    cents: 0,
    leaveMin: 0,
    backMin: 0,
    stops: new Int32Array(maxStops),
    starts: new Int32Array(maxStops),
    ends: new Int32Array(maxStops),
    count: 0,
  };
}

/**
 * Run slot k's stops through the day, with `extra` put in before place `at` (extra = -1: as they are). True when every rule of the day holds; `run` then
 * has its times and cost. Stops begin as early as they can; the crew leaves as late as its first stop allows.
 */
export function runDay(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  extra: number,
  at: number,
  run: DayRun,
): boolean {
  const { crew: crewIndex, day } = problem.slots[slot]!;
  const earliest = earliestLeave(problem, state, slot);
  const held = state.sequence;
  const from = slot * maxStops;
  const count = state.count[slot]! + (extra >= 0 ? 1 : 0);
  if (count > maxStops) return false;
  run.count = count;
  for (let i = 0; i < count; i++) {
    run.stops[i] = extra < 0 || i < at ? held[from + i]! : i === at ? extra : held[from + i - 1]!;
  }
  const latest = latestBack(problem, state, slot);
  if (!drive(problem, state, slot, kit, earliest, latest, run, null)) return false;

  const crew = problem.crews[crewIndex]!;
  const dutyMin = run.backMin - run.leaveMin;
  if (dutyMin > crew.dutyMaxHoursPerDay * 60) return false;
  if (!weekHolds(problem, state, slot, dutyMin)) return false;

  const hours = dutyMin / 60;
  run.cents += hours * crew.costCentsPerHour;
  run.cents +=
    Math.max(0, hours - crew.standardHoursPerDay) *
    crew.costCentsPerHour *
    (problem.operation.settings.costs.overtimeFactor - 1);
  const { lateCentsPerHaDay } = problem.operation.settings.planning;
  for (let i = 0; i < count; i++) {
    const block = problem.blocks[run.stops[i]!]!;
    const lateDays = day - problem.orders[block.order]!.preferredDay;
    if (lateDays > 0) run.cents += lateCentsPerHaDay * block.areaHa * lateDays;
  }
  return true;
}

/** The activities of a slot as it stands. */
export function listActivities(problem: Problem, state: State, slot: number): RoughActivity[] {
  const run = createDayRun();
  run.count = state.count[slot]!;
  run.stops.set(state.sequence.subarray(slot * maxStops, slot * maxStops + run.count));
  const kit = state.kit[slot]!;
  const activities: RoughActivity[] = [];
  if (kit === null || !drive(problem, state, slot, kit, state.leaveMin[slot]!, state.backMin[slot]!, run, activities)) {
    throw new Error(`slot ${slot} does not run as it was accepted`);
  }
  return activities;
}

/** From base to base through `run.stops`. Fills run's times and the cost of road and running. */
function drive(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  earliestMin: number,
  latestMin: number,
  run: DayRun,
  emit: RoughActivity[] | null,
): boolean {
  const { crew, day } = problem.slots[slot]!;
  const { places, travelMin, travelKm } = problem;
  const placeCount = places.length;
  const base = problem.placeOfBase[problem.baseOfCrew[crew]!]!;
  const type = problem.types[kit.option.type]!;
  const night = type.nightCapable && problem.crews[crew]!.nightWork ? 1 : 0;
  const tenderL = problem.equipment.tenderWaterL[kit.tender]!;
  const qualified = problem.qualified[crew]!;
  const charge = problem.signatures.at(kit.signature).charge;

  let timeMin = earliestMin;
  let place = base;
  let waterL = tenderL;
  let km = 0;
  let workMin = 0;
  let firstWaitMin = 0;
  let lastLiquid = -1;
  let setsUsed = 0;
  // Tank (1) and hopper (0): group in it, and what cleaning it takes.
  let group0 = 0;
  let group1 = 0;
  let cleanMin0 = 0;
  let cleanMin1 = 0;
  let cleanL0 = 0;
  let cleanL1 = 0;

  const go = (to: number) => {
    const minutes = travelMin[place * placeCount + to]!;
    const distanceKm = travelKm[place * placeCount + to]!;
    if (emit !== null) {
      emit.push({
        kind: "drive",
        startMin: timeMin,
        endMin: timeMin + minutes,
        from: places[place]!,
        to: places[to]!,
        distanceKm,
      });
    }
    timeMin += minutes;
    km += distanceKm;
    place = to;
  };
  const packUp = () => {
    if (emit !== null) {
      emit.push({
        kind: "packup",
        startMin: timeMin,
        endMin: timeMin + Math.ceil(type.packupMin),
        place: places[place]!,
      });
    }
    timeMin += Math.ceil(type.packupMin);
  };

  for (let i = 0; i < run.count; i++) {
    const index = run.stops[i]!;
    const block = problem.blocks[index]!;
    const order = problem.orders[block.order]!;
    if (qualified[kit.optionIndex * problem.licences + order.licence] === 0) return false;
    const minutes = problem.work.minutes(index, kit.signature);
    if (minutes === 0) return false;
    const pad = problem.work.place(index, kit.signature);

    const gear = order.liquid ? 1 : 0;
    const groupInside = gear === 1 ? group1 : group0;
    const mustClean = order.group !== 0 && groupInside !== 0 && groupInside !== order.group;
    const cleanL = mustClean ? (gear === 1 ? cleanL1 : cleanL0) : 0;
    const needL = block.waterL + cleanL;
    let atPad = place === pad;
    if (needL > waterL) {
      if (needL > tenderL) return false;
      if (place !== base) packUp();
      const water = nearestWater(problem, base, place, pad, tenderL - waterL);
      if (water !== place) go(water);
      const addL = tenderL - waterL;
      const fillMin = Math.ceil(addL / problem.fillLPerMin[water]!);
      if (emit !== null) {
        emit.push({
          kind: "refill",
          startMin: timeMin,
          endMin: timeMin + fillMin,
          place: places[water]!,
          waterL: addL,
        });
      }
      timeMin += fillMin;
      waterL = tenderL;
      atPad = false;
      go(pad);
    } else if (!atPad) {
      if (place !== base) packUp();
      go(pad);
    }
    if (mustClean) {
      const cleanMin = Math.ceil(gear === 1 ? cleanMin1 : cleanMin0);
      if (emit !== null) {
        emit.push({
          kind: "cleanOut",
          startMin: timeMin,
          endMin: timeMin + cleanMin,
          fromGroup: groupName(problem, groupInside),
          toGroup: groupName(problem, order.group),
          waterL: cleanL,
        });
      }
      timeMin += cleanMin;
      if (gear === 1) {
        cleanMin1 = 0;
        cleanL1 = 0;
      } else {
        cleanMin0 = 0;
        cleanL0 = 0;
      }
    }
    if (lastLiquid >= 0 && lastLiquid !== gear) {
      const changeMin = Math.ceil(type.methodChangeMin);
      if (emit !== null) {
        emit.push({
          kind: "methodChange",
          startMin: timeMin,
          endMin: timeMin + changeMin,
          to: gear === 1 ? "liquid" : "granular",
        });
      }
      timeMin += changeMin;
    }
    lastLiquid = gear;
    if (!atPad) {
      const setupMin = Math.ceil(type.setupMin);
      if (emit !== null)
        emit.push({ kind: "setup", startMin: timeMin, endMin: timeMin + setupMin, place: places[pad]! });
      timeMin += setupMin;
    }

    const start = earliestStart(problem, state, slot, index, kit.option.type, night, day, timeMin, minutes);
    if (start < 0) return false;
    if (start > timeMin) {
      if (i === 0) firstWaitMin = start - timeMin;
      if (emit !== null) emit.push({ kind: "wait", startMin: timeMin, endMin: start });
    }
    run.starts[i] = start;
    run.ends[i] = start + minutes;
    timeMin = start + minutes;
    if (timeMin > latestMin) return false;
    if (emit !== null) emit.push({ kind: "work", startMin: start, endMin: timeMin, block: index });
    workMin += minutes;
    waterL -= needL;
    if (charge !== null) {
      setsUsed += problem.work.setsUsed(index, kit.signature);
      if (setsUsed > kit.sets + (charge.bays * (timeMin - run.starts[0]!)) / charge.chargeMin) return false;
    }
    if (order.group !== 0) {
      if (gear === 1) {
        group1 = order.group;
        cleanMin1 = Math.max(cleanMin1, order.cleanOutMin);
        cleanL1 = Math.max(cleanL1, order.cleanOutL);
      } else {
        group0 = order.group;
        cleanMin0 = Math.max(cleanMin0, order.cleanOutMin);
        cleanL0 = Math.max(cleanL0, order.cleanOutL);
      }
    }
  }
  if (place !== base) {
    packUp();
    go(base);
  }
  if (timeMin > latestMin) return false;
  run.leaveMin = earliestMin + firstWaitMin;
  run.backMin = timeMin;
  run.cents =
    km * problem.operation.settings.costs.driveCentsPerKm +
    (workMin / 60) * kit.option.count * type.runningCentsPerHour;
  return fieldRulesHold(problem, state, slot, run);
}

function groupName(problem: Problem, group: number): string {
  return problem.groups[group]!;
}

/** The place to fill up at on the way from one place to another that costs the least time. */
function nearestWater(problem: Problem, base: number, from: number, to: number, addL: number): number {
  const { travelMin, places, fillLPerMin } = problem;
  const cost = (water: number) =>
    travelMin[from * places.length + water]! + travelMin[water * places.length + to]! + addL / fillLPerMin[water]!;
  let best = base;
  let bestMin = cost(base);
  for (const water of problem.waterPlaces) {
    const minutes = cost(water);
    if (minutes < bestMin) {
      bestMin = minutes;
      best = water;
    }
  }
  return best;
}

/** The first minute from `fromMin` at which the whole work fits a window and no other crew is over the field, or -1. */
function earliestStart(
  problem: Problem,
  state: State,
  slot: number,
  index: number,
  type: number,
  night: number,
  day: number,
  fromMin: number,
  minutes: number,
): number {
  const block = problem.blocks[index]!;
  const variant = (block.order * problem.types.length + type) * 2 + night;
  const windows = problem.windows[variant]!;
  if (windows === null) return -1;
  const beside = problem.blocksOfField[block.field]!;
  for (let w = problem.firstWindow[variant * problem.calendar.dates.length + day]!; w < windows.length; w += 2) {
    const close = windows[w + 1]!;
    let start = Math.max(fromMin, windows[w]!);
    while (start + minutes <= close) {
      let clearAt = start;
      for (const other of beside) {
        if (other === index) continue;
        const otherSlot = state.slotOf[other]!;
        if (otherSlot < 0 || otherSlot === slot) continue;
        if (state.startMin[other]! < start + minutes && start < state.endMin[other]!) {
          clearAt = Math.max(clearAt, state.endMin[other]!);
        }
      }
      if (clearAt === start) return start;
      start = clearAt;
    }
    if (windows[w]! > problem.slots[slot]!.shiftToMin) return -1;
  }
  return -1;
}

/** Rules between orders on one field: days apart, no interleaving, most in a season. */
function fieldRulesHold(problem: Problem, state: State, slot: number, run: DayRun): boolean {
  for (let i = 0; i < run.count; i++) {
    const orderIndex = problem.blocks[run.stops[i]!]!.order;
    const order = problem.orders[orderIndex]!;
    for (const { order: other, days } of order.apart) {
      if (!apartHolds(problem, state, slot, run, orderIndex, other, days)) return false;
    }
    for (const season of order.seasons) {
      if (!seasonHolds(problem, state, slot, run, season)) return false;
    }
  }
  return true;
}

const spanA = { first: 0, last: 0 };
const spanB = { first: 0, last: 0 };

function apartHolds(
  problem: Problem,
  state: State,
  slot: number,
  run: DayRun,
  orderA: number,
  orderB: number,
  days: number,
): boolean {
  if (!orderSpan(problem, state, slot, run, orderB, spanB)) return true;
  orderSpan(problem, state, slot, run, orderA, spanA);
  if (spanA.last <= spanB.first) return dayOf(problem, spanB.first) - dayOf(problem, spanA.last - 1) >= days;
  if (spanB.last <= spanA.first) return dayOf(problem, spanA.first) - dayOf(problem, spanB.last - 1) >= days;
  return false;
}

function dayOf(problem: Problem, min: number): number {
  const { dayStartMin } = problem.calendar;
  let day = 0;
  while (day + 1 < dayStartMin.length && dayStartMin[day + 1]! <= min) day++;
  return day;
}

/** First and last minute of an order's work, the slot at hand taken from `run`; false when it has none. */
function orderSpan(
  problem: Problem,
  state: State,
  slot: number,
  run: DayRun,
  order: number,
  span: { first: number; last: number },
): boolean {
  span.first = Number.POSITIVE_INFINITY;
  span.last = Number.NEGATIVE_INFINITY;
  for (const block of problem.blocksOfOrder[order]!) {
    const at = state.slotOf[block]!;
    if (at < 0 || at === slot) continue;
    span.first = Math.min(span.first, state.startMin[block]!);
    span.last = Math.max(span.last, state.endMin[block]!);
  }
  for (let i = 0; i < run.count; i++) {
    if (problem.blocks[run.stops[i]!]!.order !== order) continue;
    span.first = Math.min(span.first, run.starts[i]!);
    span.last = Math.max(span.last, run.ends[i]!);
  }
  return span.last > span.first;
}

function seasonHolds(problem: Problem, state: State, slot: number, run: DayRun, season: number): boolean {
  const limit = problem.seasonLimits[season]!;
  let count = 0;
  let amount = 0;
  for (let at = 0; at < limit.orders.length; at++) {
    if (!orderSpan(problem, state, slot, run, limit.orders[at]!, spanB)) continue;
    count++;
    amount += limit.amounts[at]!;
  }
  return count <= limit.maxCount && amount <= limit.maxAmount + 1e-9;
}

function earliestLeave(problem: Problem, state: State, slot: number): number {
  const { crew, shiftFromMin } = problem.slots[slot]!;
  let earliest = shiftFromMin;
  const restMin = problem.crews[crew]!.restMinHours * 60;
  for (const other of problem.slotsOfCrew[crew]!) {
    if (other < slot && state.count[other]! > 0)
      earliest = Math.max(earliest, Math.ceil(state.backMin[other]! + restMin));
  }
  return earliest;
}

function latestBack(problem: Problem, state: State, slot: number): number {
  const { crew, shiftToMin } = problem.slots[slot]!;
  let latest = shiftToMin;
  const restMin = problem.crews[crew]!.restMinHours * 60;
  for (const other of problem.slotsOfCrew[crew]!) {
    if (other > slot && state.count[other]! > 0)
      latest = Math.min(latest, Math.floor(state.leaveMin[other]! - restMin));
  }
  return latest;
}

/** Duty over every seven days in a row that hold the slot's day. */
function weekHolds(problem: Problem, state: State, slot: number, dutyMin: number): boolean {
  const { crew, day } = problem.slots[slot]!;
  const slots = problem.slotsOfCrew[crew]!;
  const mostMin = problem.crews[crew]!.dutyMaxHoursPerWeek * 60;
  for (let first = day - 6; first <= day; first++) {
    let sumMin = dutyMin;
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
