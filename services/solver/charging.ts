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

/** Our choice: a set counts as full when a millionth of its charge is missing, so that rounding does not keep it on the bay. */
const setSlack = 1e-6;

/**
 * Battery sets that are full at a minute, when the bays need until `chargedAtMin` for all of them. Our choice: what is left to charge is
 * spread over the bays evenly and keeps as few sets from being full as it can; in a block, these are then charged from empty.
 */
export function fullSetsAt(min: number, sets: number, chargedAtMin: number, charge: Charge | null): number {
  if (charge === null || chargedAtMin <= min) return sets;
  const waiting = Math.ceil(((chargedAtMin - min) * charge.bays) / charge.chargeMin - setSlack);
  return Math.max(0, sets - waiting);
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

/** When the bays will have charged all sets after a work, which took so much charging and left so much of it, in minutes of one bay. */
export function chargedAfter(
  work: { readonly startMin: number; readonly minutes: number; readonly takenMin: number; readonly leftMin: number },
  chargedAtMin: number,
  { bays }: Charge,
): number {
  const neededMin = Math.max(0, chargedAtMin - work.startMin) * bays;
  // Sets that the work did not ask for go on being charged beside it, as far as the bays go.
  const besideMin = neededMin + work.takenMin - bays * work.minutes;
  return work.startMin + work.minutes + Math.max(work.leftMin, besideMin) / bays;
}
