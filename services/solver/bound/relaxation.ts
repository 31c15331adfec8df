import type { Problem } from "../problem.ts";
import { type DayStops, dayStopsOf } from "./dayStops.ts";
import { type Exclusion, everyExclusion } from "./keepApart.ts";
import { everyStop, type Moves, movesOf, type Stops } from "./moves.ts";
import { nearSetsOf } from "./nearSets.ts";
import { everyOuting, type Outing, type SharedLimit } from "./outings.ts";
import { type Residues, residuesOf } from "./residues.ts";
import { leastRoads } from "./roads.ts";
import type { NearSets } from "./task.ts";

/** The problem with fewer rules: whatever a plan does, it does here for no more. */
export interface Relaxation {
  readonly problem: Problem;
  /** Place of a block among the open ones. */
  readonly rowOfBlock: Int32Array;
  readonly stops: Stops;
  readonly outings: readonly Outing[];
  readonly outingsOfSlot: readonly (readonly number[])[];
  readonly days: readonly DayStops[];
  readonly moves: readonly Moves[];
  readonly limits: readonly SharedLimit[];
  readonly dutyLimits: readonly (readonly number[])[];
  /** What the last of the limits stand for, those that keep work apart, in the same order. */
  readonly exclusions: readonly Exclusion[];
  /** What work on a block takes of limits, by slot. */
  readonly workLimits: readonly (readonly WorkLimit[])[];
  readonly roadCents: Float64Array;
  readonly near: NearSets;
  readonly residues: Residues;
  readonly fillLPerMin: number;
  /** Of blocks that nobody can do. */
  readonly lostCents: number;
}

export interface WorkLimit {
  readonly block: number;
  readonly limit: number;
  readonly amount: number;
}

export function relax(problem: Problem): Relaxation {
  const { routes } = problem;
  const stops = everyStop(problem);
  const roads = leastRoads(problem);
  const { list, limits, dutyLimits } = everyOuting(problem);
  const movesByType = problem.types.map((_, type) =>
    list.some(({ option }) => option.type === type) ? movesOf(problem, stops, roads, type) : null,
  );
  const made = list.flatMap((outing) => {
    const moves = movesByType[outing.option.type]!;
    const day = dayStopsOf(problem, stops, moves, outing);
    return day.count === 0 ? [] : [{ outing, moves, day }];
  });
  const outings = made.map(({ outing }) => outing);
  const days = made.map(({ day }) => day);
  const count = stops.block.length;
  const { driveCentsPerKm } = problem.operation.settings.costs;
  const roadCents = new Float64Array(count * count);
  for (let from = 0; from < count; from++) {
    for (let to = 0; to < count; to++) {
      const km = roads.km[stops.place[from]! * routes.placeCount + stops.place[to]!]!;
      roadCents[from * count + to] = km * driveCentsPerKm;
    }
  }
  const least = new Float64Array(problem.blocks.length * problem.slots.length).fill(Number.POSITIVE_INFINITY);
  outings.forEach(({ slot }, index) => {
    const { block, minutes, count } = days[index]!;
    for (let k = 0; k < count; k++) {
      const at = block[k]! * problem.slots.length + slot;
      least[at] = Math.min(least[at]!, minutes[k]!);
    }
  });
  const exclusions = everyExclusion(problem, (block, slot) => least[block * problem.slots.length + slot]!);
  const firstApart = limits.length;
  for (const { capacity, blocks } of exclusions) {
    limits.push({ kind: "apart", capacity, day: -1, base: -1, of: blocks[0]! });
  }
  const isOpen = new Set(problem.open);
  const rowOfBlock = new Int32Array(problem.blocks.length).fill(-1);
  problem.open.forEach((block, row) => {
    rowOfBlock[block] = row;
  });
  return {
    problem,
    rowOfBlock,
    stops,
    outings,
    outingsOfSlot: problem.slots.map((_, slot) => outings.flatMap((one, index) => (one.slot === slot ? [index] : []))),
    days,
    moves: made.map(({ moves }) => moves),
    limits,
    dutyLimits,
    exclusions,
    workLimits: workLimitsOf(exclusions, firstApart, problem.slots.length),
    roadCents,
    near: nearSetsOf(problem),
    residues: residuesOf(problem, stops),
    fillLPerMin: problem.fillLPerMin.reduce((most, rate) => Math.max(most, rate), 0),
    lostCents: routes.valueCents.reduce((sum, cents, block) => sum + (isOpen.has(block) ? 0 : cents), 0),
  };
}

/** By slot; the exclusions are the limits from `first` on. */
export function workLimitsOf(exclusions: readonly Exclusion[], first: number, slots: number): WorkLimit[][] {
  const workLimits: WorkLimit[][] = Array.from({ length: slots }, () => []);
  exclusions.forEach(({ blocks, slots: ofBlock, amounts }, at) => {
    blocks.forEach((block, k) => {
      for (const slot of ofBlock[k]!) workLimits[slot]!.push({ block, limit: first + at, amount: amounts[k]! });
    });
  });
  return workLimits;
}
