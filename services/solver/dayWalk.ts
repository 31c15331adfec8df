import type { Activity } from "../../shared/plan/plan.ts";
import { flownAfter, hasFuelFor, levelAfter, quarters, type ReadySets, readySetsAt } from "./charging.ts";
import { findTiming, nearestWater, type Timing, timeFrom } from "./dayTimes.ts";
import { kindFor } from "./kinds.ts";
import { asideAt, asideWidth, clearAside, pauseAside, putAside, runningCents } from "./kindsAside.ts";
import type { Kind, Kit, Problem, WorkTable } from "./problem.ts";
import type { DayRun, State } from "./routes.ts";

/** An activity without the facts of the work itself, which only the finished plan needs. */
export type RoughActivity =
  | Exclude<Activity, { kind: "work" }>
  | { kind: "work"; startMin: number; endMin: number; block: number; ready: ReadySets; pauses: number[] };

/**
 * How a crew stands before each of its stops, so that a walk can begin in the middle: `numbers[at * width ...]` are time, place, water, km, minutes of work,
 * first wait, when the bays will have charged all sets (or minutes flown on a filling), gear last used, then group, clean-out minutes and litres of hopper and of tank, since when sets are charged and how many wait.
 * What is of aircraft and batteries is that of the kind at work; of others in the kit it is in `aside`.
 */
export interface Standing {
  readonly numbers: Float64Array;
  /** Times of the stops before, as the same walk had them. */
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  readonly ready: Float64Array;
  readonly aside: Float64Array;
}
const width = 16;

export function createStanding(stride: number): Standing {
  return {
    numbers: new Float64Array((stride + 1) * width),
    starts: new Float64Array(stride),
    ends: new Float64Array(stride),
    ready: new Float64Array(stride),
    aside: new Float64Array((stride + 1) * asideWidth),
  };
}

/** Stand at the base where the day begins, tender full, tank and hopper clean. */
export function standAtBase(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  earliestMin: number,
  standing: Standing,
): void {
  const { numbers } = standing;
  numbers.fill(0, 0, width);
  numbers[0] = earliestMin;
  numbers[1] = state.startPlace[slot]!;
  numbers[2] = problem.equipment.tenderWaterL[kit.tender]!;
  numbers[7] = -1;
  clearAside(standing.aside);
}

/**
 * Walk from before stop `from`, as `standing` has it, through the rest of `run.stops` and home. Fills run's times from there on and the cost of road and
 * running. `record` writes into `standing` how the crew stands before every later stop. False when a rule of the day breaks. With `emit` the stops keep the
 * times that the state has, and their activities are listed: since they were accepted, another crew may have left the field earlier.
 */
export function walk(
  problem: Problem,
  state: State,
  slot: number,
  kit: Kit,
  from: number,
  latestMin: number,
  run: DayRun,
  standing: Standing,
  record: boolean,
  emit: RoughActivity[] | null,
): boolean {
  const { crew } = problem.slots[slot]!;
  const { places, travelMin, travelKm } = problem;
  const placeCount = places.length;
  const startBase = state.startPlace[slot]!;
  const endBase = state.endPlace[slot]!;
  const bases = [problem.placeOfBase[problem.baseOfCrew[crew]!]!, startBase, endBase] as const;
  const isMixed = kit.also !== undefined;
  if (isMixed) aside.set(standing.aside.subarray(from * asideWidth, (from + 1) * asideWidth));
  let kind: Kind = isMixed && aside[0]! > 0 ? kit.also[aside[0]! - 1]! : kit;
  let type = problem.types[kind.option.type]!;
  let night = type.nightCapable && problem.crews[crew]!.nightWork ? 1 : 0;
  const { setupMin, packupMin } = state.routes.profiles[kit.profile]!;
  let changeMin = Math.ceil(type.methodChangeMin + type.calibrationMin);
  let firstSetupMin = Math.ceil(type.setupMin + type.calibrationMin);
  for (const { option } of kit.also ?? []) {
    const other = problem.types[option.type]!;
    firstSetupMin = Math.max(firstSetupMin, Math.ceil(other.setupMin + other.calibrationMin));
  }
  const tenderL = problem.equipment.tenderWaterL[kit.tender]!;
  const qualified = problem.qualified[crew]!;
  let { charge } = problem.signatures.at(kind.signature);
  let usableMin = type.power.enduranceMin * (1 - type.power.reserveFrac);
  const { work } = problem;
  const { resumeMin } = problem.operation.settings.planning;
  const { numbers } = standing;

  let at = from * width;
  let timeMin = numbers[at]!;
  let place = numbers[at + 1]!;
  let waterL = numbers[at + 2]!;
  let km = numbers[at + 3]!;
  let workMin = numbers[at + 4]!;
  let firstWaitMin = numbers[at + 5]!;
  /** With batteries: when the bays will have charged all sets. With fuel: minutes flown since the last filling. */
  let energy = numbers[at + 6]!;
  // With batteries: since when, and how many of them wait.
  let sinceMin = numbers[at + 14]!;
  let waitingSets = numbers[at + 15]!;
  let lastGear = numbers[at + 7]!;
  // Hopper (0) and tank (1): group inside, and what cleaning it takes.
  let group0 = numbers[at + 8]!;
  let cleanMin0 = numbers[at + 9]!;
  let cleanL0 = numbers[at + 10]!;
  let group1 = numbers[at + 11]!;
  let cleanMin1 = numbers[at + 12]!;
  let cleanL1 = numbers[at + 13]!;

  const freeFromMin = problem.begun.freeFromMin[slot]!;
  for (let i = from; i < run.count; i++) {
    const index = run.stops[i]!;
    let leavesLaterMin = 0;
    if (timeMin < freeFromMin && problem.locks.startMin[index]! < 0) {
      if (i === 0) leavesLaterMin = freeFromMin - timeMin;
      else emit?.push({ kind: "wait", startMin: timeMin, endMin: freeFromMin });
      timeMin = freeFromMin;
    }
    const block = problem.blocks[index]!;
    const order = problem.orders[block.order]!;
    if (isMixed && problem.kindOf(kit.profile, index) !== aside[0]) {
      putAside(aside, workMin, energy, lastGear, sinceMin, waitingSets);
      aside[0] = problem.kindOf(kit.profile, index);
      const its = asideAt(aside[0]);
      workMin = aside[its]!;
      energy = aside[its + 1]!;
      lastGear = aside[its + 2]!;
      sinceMin = aside[its + 3]!;
      waitingSets = aside[its + 4]!;
      kind = kindFor(problem, kit, index);
      type = problem.types[kind.option.type]!;
      night = type.nightCapable && problem.crews[crew]!.nightWork ? 1 : 0;
      changeMin = Math.ceil(type.methodChangeMin + type.calibrationMin);
      ({ charge } = problem.signatures.at(kind.signature));
      usableMin = type.power.enduranceMin * (1 - type.power.reserveFrac);
    }
    if (qualified[kind.optionIndex * problem.licences + order.licence] === 0) return false;
    if (work.minutes(index, kind.signature) === 0) return false;
    const pad = work.place(index, kind.signature);

    const gear = order.liquid ? 1 : 0;
    const inside = gear === 1 ? group1 : group0;
    const mustClean = order.group !== 0 && inside !== 0 && inside !== order.group;
    const cleanL = mustClean ? (gear === 1 ? cleanL1 : cleanL0) : 0;
    const needL = block.waterL + cleanL;
    const mustFill = needL > waterL;
    if (needL > tenderL) return false;
    const moves = mustFill || place !== pad;
    if (moves && place !== startBase) {
      emit?.push({ kind: "packup", startMin: timeMin, endMin: timeMin + packupMin, place: places[place]! });
      timeMin += packupMin;
    }
    if (mustFill) {
      const addL = tenderL - waterL;
      const water = nearestWater(problem, bases, place, pad, addL);
      if (water !== place) {
        emit?.push(driveOf(problem, place, water, timeMin));
        timeMin += travelMin[place * placeCount + water]!;
        km += travelKm[place * placeCount + water]!;
        place = water;
      }
      const fillMin = Math.ceil(addL / problem.fillLPerMin[water]!);
      emit?.push({ kind: "refill", startMin: timeMin, endMin: timeMin + fillMin, place: places[water]!, waterL: addL });
      timeMin += fillMin;
      waterL = tenderL;
    }
    if (moves) {
      emit?.push(driveOf(problem, place, pad, timeMin));
      timeMin += travelMin[place * placeCount + pad]!;
      km += travelKm[place * placeCount + pad]!;
      place = pad;
    }
    if (mustClean) {
      const cleanMin = Math.ceil(gear === 1 ? cleanMin1 : cleanMin0);
      emit?.push({
        kind: "cleanOut",
        startMin: timeMin,
        endMin: timeMin + cleanMin,
        fromGroup: problem.groups[inside]!,
        toGroup: problem.groups[order.group]!,
        waterL: cleanL,
      });
      timeMin += cleanMin;
      if (gear === 1) {
        cleanMin1 = 0;
        cleanL1 = 0;
      } else {
        cleanMin0 = 0;
        cleanL0 = 0;
      }
    }
    if (lastGear >= 0 && lastGear !== gear) {
      const to = gear === 1 ? "liquid" : "granular";
      emit?.push({ kind: "methodChange", startMin: timeMin, endMin: timeMin + changeMin, to });
      timeMin += changeMin;
    }
    if (moves) {
      const endMin = timeMin + (i === 0 ? firstSetupMin : setupMin);
      emit?.push({ kind: "setup", startMin: timeMin, endMin, place: places[pad]! });
      timeMin = endMin;
    }
    lastGear = gear;

    const readyThen =
      charge === null
        ? tankAt(work, index, kind, energy, usableMin)
        : readySetsAt(timeMin, kind.sets, sinceMin, energy, waitingSets, charge);
    const workThen = work.workWith(index, kind.signature, readyThen);
    if (emit !== null) timing.startMin = state.startMin[index]!;
    else if (!findTiming(problem, state, slot, index, kind.option.type, night, timeMin, workThen.minutes, timing))
      return false;
    const start = timing.startMin;
    if (start < timeMin) return false;
    run.ready[i] = timeMin;
    // While the crew waits for a window the bays go on.
    const ready =
      start === timeMin || charge === null
        ? readyThen
        : readySetsAt(start, kind.sets, sinceMin, energy, waitingSets, charge);
    const done = start === timeMin ? workThen : work.workWith(index, kind.signature, ready);
    const { minutes } = done;
    if (emit !== null || minutes !== workThen.minutes) {
      const windows = problem.windows[(block.ground * problem.types.length + kind.option.type) * 2 + night]!;
      if (!timeFrom(problem, windows, windowAt(windows, start), start, minutes, timing)) return false;
    }
    if (i === 0) {
      firstWaitMin = start - timeMin + leavesLaterMin;
    }
    if (start > timeMin) emit?.push({ kind: "wait", startMin: timeMin, endMin: start });
    const pauses = timing.pauses.length >> 1;
    timeMin = timing.endMin;
    if (timeMin > latestMin) return false;
    emit?.push({ kind: "work", startMin: start, endMin: timeMin, block: index, ready, pauses: [...timing.pauses] });
    const pausedMin = timeMin - start - minutes;
    if (isMixed && pausedMin > 0) pauseAside(problem, kit, aside, start, pausedMin);
    if (charge === null) {
      energy = flownAfter(done, energy, ready.full === 0);
    } else {
      const level = levelAfter(start, done, energy, kind.sets, charge);
      // No gain of pauses is counted.
      sinceMin = level.sinceMin + pausedMin;
      energy = level.chargedAtMin + pausedMin;
      ({ waitingSets } = level);
    }
    run.starts[i] = start;
    run.ends[i] = timeMin;
    workMin += minutes + pauses * resumeMin;
    waterL -= needL;
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
    if (record) {
      standing.starts[i] = start;
      standing.ends[i] = timeMin;
      standing.ready[i] = run.ready[i]!;
      at = (i + 1) * width;
      numbers[at] = timeMin;
      numbers[at + 1] = place;
      numbers[at + 2] = waterL;
      numbers[at + 3] = km;
      numbers[at + 4] = workMin;
      numbers[at + 5] = firstWaitMin;
      numbers[at + 6] = energy;
      numbers[at + 14] = sinceMin;
      numbers[at + 15] = waitingSets;
      numbers[at + 7] = lastGear;
      numbers[at + 8] = group0;
      numbers[at + 9] = cleanMin0;
      numbers[at + 10] = cleanL0;
      numbers[at + 11] = group1;
      numbers[at + 12] = cleanMin1;
      numbers[at + 13] = cleanL1;
      if (isMixed) standing.aside.set(aside, (i + 1) * asideWidth);
    }
  }
  if (place !== endBase) {
    emit?.push({ kind: "packup", startMin: timeMin, endMin: timeMin + packupMin, place: places[place]! });
    timeMin += packupMin;
    emit?.push(driveOf(problem, place, endBase, timeMin));
    timeMin += travelMin[place * placeCount + endBase]!;
    km += travelKm[place * placeCount + endBase]!;
  }
  if (timeMin > latestMin) return false;
  run.leaveMin = numbers[0]! + firstWaitMin;
  run.backMin = timeMin;
  if (isMixed) putAside(aside, workMin, energy, lastGear, sinceMin, waitingSets);
  run.cents =
    km * problem.operation.settings.costs.driveCentsPerKm +
    (isMixed ? runningCents(problem, kit, aside) : (workMin / 60) * kit.option.count * type.runningCentsPerHour);
  return true;
}

const aside = new Float64Array(asideWidth);

const timing: Timing = { startMin: 0, endMin: 0, pauses: [] };

/** Index of the window that a minute lies in. */
function windowAt(windows: Int32Array, min: number): number {
  let w = 0;
  while (windows[w + 1]! <= min) w += 2;
  return w;
}

/** Aircraft on fuel that need not fill up first, and that must. */
const fuelled: ReadySets = { full: 1, neededQuarters: quarters };
const unfuelled: ReadySets = { full: 0, neededQuarters: quarters };

function tankAt(work: WorkTable, block: number, kind: Kind, flownMin: number, usableMin: number): ReadySets {
  return hasFuelFor(work.workWith(block, kind.signature, fuelled), flownMin, usableMin) ? fuelled : unfuelled;
}

function driveOf(problem: Problem, from: number, to: number, startMin: number): RoughActivity {
  const { places, travelMin, travelKm } = problem;
  const at = from * places.length + to;
  return {
    kind: "drive",
    startMin,
    endMin: startMin + travelMin[at]!,
    from: places[from]!,
    to: places[to]!,
    distanceKm: travelKm[at]!,
  };
}
