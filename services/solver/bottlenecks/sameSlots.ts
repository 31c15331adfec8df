import type { DayStops } from "../bound/dayStops.ts";
import type { Relaxation } from "../bound/relaxation.ts";

/**
 * For each slot of the other relaxation the base's slot of the same crew and day, if whatever may be done in it, and what that costs, is the same; else -1. Limits of both must be under the same
 * numbers or, where the base has none, without a price.
 */
export function sameSlots(base: Relaxation, other: Relaxation): Int32Array {
  const slotOf = new Map(base.problem.slots.map(({ crew, day }, slot) => [`${crew} ${day}`, slot]));
  return Int32Array.from(other.problem.slots, ({ crew, day }, slot) => {
    const before = slotOf.get(`${crew} ${day}`);
    return before !== undefined && isSame(base, before, other, slot) ? before : -1;
  });
}

function isSame(base: Relaxation, before: number, other: Relaxation, slot: number): boolean {
  const own = base.outingsOfSlot[before]!;
  const theirs = other.outingsOfSlot[slot]!;
  const [a, b] = [base.problem.routes, other.problem.routes];
  return (
    own.length === theirs.length &&
    a.dutyMaxMin[before] === b.dutyMaxMin[slot] &&
    a.standardMin[before] === b.standardMin[slot] &&
    a.wageCentsPerMin[before] === b.wageCentsPerMin[slot] &&
    a.overtimeCentsPerMin[before] === b.overtimeCentsPerMin[slot] &&
    isEqual(base.dutyLimits[before]!, other.dutyLimits[slot]!) &&
    own.every((outing, at) => isSameOuting(base, outing, other, theirs[at]!))
  );
}

function isSameOuting(base: Relaxation, index: number, other: Relaxation, theirIndex: number): boolean {
  const outing = base.outings[index]!;
  const theirs = other.outings[theirIndex]!;
  const [day, theirDay] = [base.days[index]!, other.days[theirIndex]!];
  return (
    outing.option.type === theirs.option.type &&
    outing.option.count === theirs.option.count &&
    isEqual(outing.limits, theirs.limits) &&
    isEqual(outing.amounts, theirs.amounts) &&
    base.problem.routes.profiles[outing.profile]!.capacity ===
      other.problem.routes.profiles[theirs.profile]!.capacity &&
    day.span === theirDay.span &&
    columnsOf(day).every((column, at) => isEqual(column, columnsOf(theirDay)[at]!))
  );
}

function columnsOf({ block, ...day }: DayStops): ArrayLike<number>[] {
  const { stop, minutes, firstWay, openMin, lastMin, lengthMin, wayCents, outMin, outCents, homeMin, homeCents } = day;
  return [block, stop, minutes, firstWay, openMin, lastMin, lengthMin, wayCents, outMin, outCents, homeMin, homeCents];
}

function isEqual(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false;
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false;
  return true;
}
