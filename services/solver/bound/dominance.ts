import type { LabelPool } from "./labelPool.ts";
import type { Task } from "./task.ts";
import { fillMinutes } from "./water.ts";

/** What triples cost that are in the two words. */
export function tripleCents({ triples }: Task, low: number, high: number): number {
  let sum = 0;
  for (let rest = low; rest !== 0; rest &= rest - 1) sum += triples.cents[31 - Math.clz32(rest & -rest)]!;
  for (let rest = high; rest !== 0; rest &= rest - 1) sum += triples.cents[63 - Math.clz32(rest & -rest)]!;
  return sum;
}

/**
 * Is one of the labels, which end at the same stop and no later, at least as good for all that may follow? If its crew could leave less late by some minutes it may have to pay
 * for waiting them, which is reckoned at the wage; more duty is reckoned at overtime, if it cannot become too much for the day; triples that it is nearer to at their price.
 */
export function isDominated(task: Task, pool: LabelPool, others: readonly number[], label: number): boolean {
  const { wageCentsPerMin, overtimeCentsPerMin, dutyMaxMin, residues, tenderL, fillLPerMin } = task;
  const lastMin = task.day.span - 1;
  const cents = pool.cents[label]!;
  const duty = pool.dutyMin[label]!;
  const memory = pool.memory[label]!;
  const low = pool.low[label]!;
  const high = pool.high[label]!;
  const left = pool.left[label]!;
  const waterL = pool.waterL[label]!;
  const min = pool.endMin[label]!;
  const leaveBy = pool.slackMin[label]! + min;
  for (let i = 0; i < others.length; i++) {
    const other = others[i]!;
    const otherCents = pool.cents[other]!;
    if (otherCents > cents) return false;
    if ((pool.memory[other]! & ~memory) !== 0) continue;
    const otherWaterL = pool.waterL[other]!;
    if (otherWaterL > waterL) continue;
    const otherLeft = pool.left[other]!;
    if (otherLeft !== left) {
      const { noWorse, count } = residues;
      if (noWorse[(otherLeft >> 16) * count + (left >> 16)] === 0) continue;
      if (noWorse[(otherLeft & 65535) * count + (left & 65535)] === 0) continue;
    }
    // It may still have to fill what this one has filled already.
    const otherMin = pool.endMin[other]!;
    const toFill =
      waterL <= tenderL
        ? 0
        : fillMinutes(waterL, tenderL, fillLPerMin) - fillMinutes(otherWaterL, tenderL, fillLPerMin);
    if (otherMin + toFill > min) continue;
    const short = toFill + Math.max(0, leaveBy - pool.slackMin[other]! - otherMin - toFill);
    const otherDuty = pool.dutyMin[other]! + short;
    let atMost = otherCents + short * wageCentsPerMin;
    if (otherDuty > duty) {
      if (pool.dutyMin[other]! + lastMin - otherMin > dutyMaxMin) continue;
      atMost += (otherDuty - duty) * overtimeCentsPerMin;
    }
    const moreLow = pool.low[other]! & ~low;
    const moreHigh = pool.high[other]! & ~high;
    if ((moreLow | moreHigh) !== 0) atMost += tripleCents(task, moreLow, moreHigh);
    if (atMost <= cents) return true;
  }
  return false;
}

/** Puts a label among those that were kept, in order of cost. */
export function settle({ cents }: LabelPool, others: number[], label: number): void {
  const own = cents[label]!;
  others.push(label);
  let at = others.length - 1;
  while (at > 0 && cents[others[at - 1]!]! > own) {
    others[at] = others[at - 1]!;
    at--;
  }
  others[at] = label;
}
