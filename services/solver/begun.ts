import type { Calendar } from "../../shared/model/calendar.ts";
import { daysBetween } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Locks } from "./locks.ts";

/** What the days hold already when a plan is made anew. Arrays are by slot. */
export interface Begun {
  /** Nothing of the slot begins before but work that a lock says to begin at its minute, and the way to such; minus infinity where nothing has begun. */
  readonly freeFromMin: Float64Array;
  /** Slots whose crew may be out by then, for work that is to begin at a minute. */
  readonly mayBeOut: Uint8Array;
}

export function compileBegun(
  { settings: { planFrom } }: Operation,
  calendar: Calendar,
  slots: readonly unknown[],
  { lockOf, startMin }: Pick<Locks, "lockOf" | "startMin">,
): Begun {
  const begun: Begun = {
    freeFromMin: new Float64Array(slots.length).fill(planFromMin({ planFrom }, calendar)),
    mayBeOut: new Uint8Array(slots.length),
  };
  lockOf.forEach((lock, slot) => {
    if (lock === undefined) return;
    const { freeFrom } = lock.lock;
    if (freeFrom !== undefined) {
      begun.freeFromMin[slot] = Math.max(begun.freeFromMin[slot]!, calendar.minOfLocal(freeFrom));
    }
    if (lock.blocks.some((block) => startMin[block]! >= 0)) begun.mayBeOut[slot] = 1;
  });
  return begun;
}

export function planFromMin({ planFrom }: Pick<Operation["settings"], "planFrom">, calendar: Calendar): number {
  return planFrom === undefined ? Number.NEGATIVE_INFINITY : calendar.minOfLocal(planFrom);
}

/** A crew that is not out leaves when it is free. */
export function shiftsLeft<Slot extends { readonly shiftFromMin: number }>(
  slots: readonly Slot[],
  { freeFromMin, mayBeOut }: Begun,
): Slot[] {
  return slots.map((slot, index) =>
    mayBeOut[index] === 1 ? slot : { ...slot, shiftFromMin: Math.max(slot.shiftFromMin, freeFromMin[index]!) },
  );
}

/** Of windows, as starts and ends in turn, what is left from a minute on. */
export function windowsLeft(windows: Int32Array | null, fromMin: number): Int32Array | null {
  if (windows === null || windows.length === 0 || windows[0]! >= fromMin) return windows;
  let w = 0;
  while (w < windows.length && windows[w + 1]! <= fromMin) w += 2;
  const left = windows.slice(w);
  if (left.length > 0) left[0] = Math.max(left[0]!, fromMin);
  return left;
}

/** dutyBeforeMin[crew][days]: minutes of duty so many days before the first. */
export function compileDutyBefore({ fleet, settings }: Operation): readonly Float64Array[] {
  return fleet.crews.map(({ dutyBefore = [] }) => {
    const minutes = new Float64Array(lookBackDays + 1);
    for (const { date, hours } of dutyBefore) {
      const days = daysBetween(date, settings.firstDay);
      if (days <= lookBackDays) minutes[days] = minutes[days]! + 60 * hours;
    }
    return minutes;
  });
}

/** Of seven days in a row that hold a day of the plan. */
const lookBackDays = 6;
