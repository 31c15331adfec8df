import { readable } from "../../../shared/plan/words.ts";
import { kindFor, kindsOf } from "../kinds.ts";
import { kitOf } from "../kits.ts";
import { anySlot, noSlot } from "../locks.ts";
import type { Kind, Kit, Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { createDayRun, createState, setOutfit } from "../state.ts";
import { windowOverlap } from "../windowOverlap.ts";
import { putInOrder } from "./putTogether.ts";

/** Why a block does not run at the end of a slot's day: asked from what can never change to what the other crew-days do. */
export function whyNot(problem: Problem, state: State, slot: number, block: number): string {
  return neverWith(problem, state, slot, block) ?? notInTheWeek(problem, state, slot, block);
}

/** What holds of the block and the outfit on that day, whatever else is planned; of several types, for each of them. */
function neverWith(problem: Problem, state: State, slot: number, block: number): string | null {
  const locked = lockedFrom(problem, slot, block);
  if (locked !== null) return locked;
  const kit = kitOf(state, slot)!;
  const reasons = kindsOf(kit).map((kind) => neverWithKind(problem, slot, kit, kind, block));
  return reasons.includes(null) ? null : [...new Set(reasons)].join("; ");
}

function neverWithKind(problem: Problem, slot: number, kit: Kit, kind: Kind, block: number): string | null {
  const { order: orderIndex, ground, waterL } = problem.blocks[block]!;
  const { licence, order } = problem.orders[orderIndex]!;
  const type = problem.types[kind.option.type]!;
  const { crew } = problem.slots[slot]!;
  if (problem.qualified[crew]![kind.optionIndex * problem.licences + licence] === 0) {
    const classes = problem.licenceSets[licence]!.join(" and ");
    return `too few of the crew's people may fly ${kind.option.count} × ${type.name} with the licence classes of ${order.id}${classes === "" ? "" : ` (${classes})`}`;
  }
  if ((problem.windows[(ground * problem.types.length + kind.option.type) * 2] ?? null) === null) {
    return `${type.name} may not work ${order.id} at any hour; windows --order ${order.id} tells why`;
  }
  const minutes = problem.work.minutes(block, kind.signature);
  if (minutes === 0) {
    const outcome = problem.work.outcome(block, kind.signature);
    return `the outfit cannot do it${outcome.ok ? "" : `: ${outcome.limit}`}`;
  }
  const tenderL = problem.equipment.tenderWaterL[kit.tender]!;
  if (waterL > tenderL) return `it takes ${readable(waterL)} L of water, the tender holds ${readable(tenderL)}`;
  const longestMin = windowOverlap(problem, ground, kind.option.type, slot);
  if (longestMin <= 0) return "no window lies in the crew's shift on that date";
  if (minutes > longestMin) {
    return `the work takes ${minutes} min, windows in the crew's shift give it ${longestMin} min at most`;
  }
  return null;
}

function lockedFrom({ locks, slots, crews, calendar }: Problem, slot: number, block: number): string | null {
  const to = locks.slotOf[block]!;
  if (to === noSlot) return "it is locked to a day on which the crew has no shift";
  if (to !== anySlot && to !== slot) {
    const { crew, day } = slots[to]!;
    return `it is locked to ${crews[crew]!.name} on ${calendar.dates[day]}`;
  }
  const isAlone = to === anySlot && locks.lockOf[slot]?.lock.nothingElse === true;
  return isAlone ? "nothing is to be added to what is locked of that day" : null;
}

/** Found by trying: alone in an empty week, after the stops before it, beside the crew's other days; what is left is the other crews. */
function notInTheWeek(problem: Problem, state: State, slot: number, block: number): string {
  const { crews, slots, slotsOfCrew, blocksOfField, blocks } = problem;
  const crew = crews[slots[slot]!.crew]!;
  const before = stopsOf(state, slot);
  if (!runsIn(problem, state, [], slot, [block])) {
    return "even as the only stop of the week the crew cannot drive there, do it in a window and be back within its shift and duty hours";
  }
  const last = before.at(-1);
  if (last !== undefined && !runsIn(problem, state, [], slot, [...before, block])) {
    return `it does not fit after the stops before it: ${blocks[last]!.block.id} is done at ${problem.calendar.clockOfMin(state.endMin[last]!)}${opensWords(problem, state, slot, block)}`;
  }
  const fields = new Set([...before, block].map((one) => blocks[one]!.field));
  const workOn = (isAmong: (other: number) => boolean) =>
    [...fields]
      .flatMap((field) => blocksOfField[field]!)
      .filter((other) => state.slotOf[other]! >= 0 && isAmong(state.slotOf[other]!))
      .map((other) => blocks[other]!.block.id);
  const others = slotsOfCrew[slots[slot]!.crew]!.filter((other) => other !== slot && state.count[other]! > 0);
  if (!runsIn(problem, state, others, slot, [...before, block])) {
    const own = workOn((other) => others.includes(other));
    const between = own.length === 0 ? "" : ` or what must lie between work on one field (${own.join(", ")})`;
    return `it does not go with the crew's other days: ${readable(crew.restMinHours)} h of rest, ${readable(crew.dutyMaxHoursPerWeek)} h of duty in seven days${between}`;
  }
  const beside = workOn((other) => other !== slot);
  return `work of other crew-days on its fields, ${beside.join(", ")}, leaves no place for it: one crew at a time, time apart, limits of the season`;
}

function stopsOf(state: State, slot: number): number[] {
  const held = slot * state.routes.stride;
  return [...state.sequence.subarray(held, held + state.count[slot]!)];
}

function opensWords(problem: Problem, state: State, slot: number, block: number): string {
  const { option, signature } = kindFor(problem, kitOf(state, slot)!, block);
  const { calendar, windows, types, crews, slots } = problem;
  const { crew, shiftFromMin, shiftToMin } = slots[slot]!;
  const night = types[option.type]!.nightCapable && crews[crew]!.nightWork ? 1 : 0;
  const list = windows[(problem.blocks[block]!.ground * types.length + option.type) * 2 + night]!;
  const spans: string[] = [];
  for (let w = 0; w < list.length; w += 2) {
    const [from, to] = [Math.max(list[w]!, shiftFromMin), Math.min(list[w + 1]!, shiftToMin)];
    if (from < to) spans.push(`${calendar.clockOfMin(from)} to ${calendar.clockOfMin(to)}`);
  }
  const takes = problem.work.minutes(block, signature);
  return `, this one takes at least ${takes} min and is open ${spans.join(", ")}, the shift ends at ${calendar.clockOfMin(shiftToMin)}`;
}

/** Whether the stops run in a week that holds only some other slots as they are. */
function runsIn(
  problem: Problem,
  state: State,
  others: readonly number[],
  slot: number,
  stops: readonly number[],
): boolean {
  const tried = createState(problem.routes);
  tried.startPlace.set(state.startPlace);
  tried.endPlace.set(state.endPlace);
  const run = createDayRun(problem.routes.stride);
  const put = (one: number, blocks: readonly number[]) => {
    setOutfit(tried, one, state.outfit[one]!);
    return putInOrder(tried, run, one, blocks) === blocks.length;
  };
  for (const other of others) put(other, stopsOf(state, other));
  return put(slot, stops);
}
