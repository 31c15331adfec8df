/** Bays of an outfit in the field, and what a set takes of them. */
export interface Charge {
  readonly bays: number;
  readonly chargeMin: number;
}

/** Of a work by aircraft on fuel. */
export interface Burn {
  /** The longest time in the air of an aircraft since it last filled up in the work, or else in all of it. */
  readonly flownMin: number;
  readonly hasFilled: boolean;
}

/** How an outfit's battery sets stand: since a minute so many of them wait for the bays, which will have charged all of them at another. */
export interface ChargeLevel {
  readonly sinceMin: number;
  readonly chargedAtMin: number;
  readonly waitingSets: number;
}

/** Battery sets at the start of a work. */
export interface ReadySets {
  readonly full: number;
  /** What each of the others needs of a whole charge, in quarters. */
  readonly neededQuarters: number;
}

/** Our choice: a set counts as full when a millionth of its charge is missing, so that rounding does not keep it on the bay. */
const setSlack = 1e-6;
/** Our choice: fine enough for minutes, and few enough answers to be kept. */
export const quarters = 4;

/**
 * Battery sets that are full at a minute. Our choice: those that wait are taken to need alike, so that they become full one after the other,
 * and in the next work the rest of them need as much again.
 */
export function readySetsAt(
  min: number,
  sets: number,
  sinceMin: number,
  chargedAtMin: number,
  waitingSets: number,
  charge: Charge,
): ReadySets {
  if (chargedAtMin <= min) return { full: sets, neededQuarters: quarters };
  const shareLeft = Math.min(1, (chargedAtMin - min) / (chargedAtMin - sinceMin));
  const waiting = Math.ceil(waitingSets * shareLeft - setSlack);
  const neededMin = ((chargedAtMin - sinceMin) * charge.bays) / waitingSets;
  const neededQuarters = Math.ceil((quarters * neededMin) / charge.chargeMin - setSlack);
  return { full: Math.max(0, sets - waiting), neededQuarters: Math.min(quarters, Math.max(1, neededQuarters)) };
}

/**
 * Whether aircraft on fuel can do a work without filling up first: what they have flown on their tanks and what the work takes of them are
 * within what a filling gives. A work in which they fill up is reckoned from full tanks.
 */
export function hasFuelFor(work: Burn, flownMin: number, usableMin: number): boolean {
  return flownMin === 0 || (!work.hasFilled && flownMin + work.flownMin <= usableMin);
}

/** What the aircraft have flown on their tanks after a work. */
export function flownAfter(work: Burn, flownMin: number, filledFirst: boolean): number {
  return work.hasFilled || filledFirst ? work.flownMin : flownMin + work.flownMin;
}

/** How the sets stand after a work, which took so much charging and left so much of it, in minutes of one bay. */
export function levelAfter(
  startMin: number,
  work: { readonly minutes: number; readonly takenMin: number; readonly leftMin: number; readonly waitingSets: number },
  chargedAtMin: number,
  sets: number,
  { bays, chargeMin }: Charge,
): ChargeLevel {
  const endMin = startMin + work.minutes;
  const neededMin = Math.max(0, chargedAtMin - startMin) * bays;
  // Sets that the work did not ask for go on being charged beside it, as far as the bays go.
  const besideMin = Math.max(0, neededMin + work.takenMin - bays * work.minutes - work.leftMin);
  const waitingSets = Math.min(sets, work.waitingSets + Math.ceil(besideMin / chargeMin - setSlack));
  return { sinceMin: endMin, chargedAtMin: endMin + (work.leftMin + besideMin) / bays, waitingSets };
}
