import { chain } from "./chains.ts";
import { clearStops } from "./removal.ts";
import type { DayRun, Night, State } from "./routes.ts";
import { keepSlot, type Shelf } from "./shelf.ts";
import { touch } from "./state.ts";

export function isAwayAfter({ routes, endPlace }: State, slot: number): boolean {
  return endPlace[slot] !== routes.endPlace[slot];
}

export function isAwayBefore({ routes, startPlace }: State, slot: number): boolean {
  return startPlace[slot] !== routes.startPlace[slot];
}

export function homeOf({ routes }: State, { evening }: Night): number {
  return routes.endPlace[evening]!;
}

/** Where the crew sleeps in a night: its evening ends there and its morning begins there. Times and cost of both days are the caller's to work out anew. */
export function sleepAt(state: State, { evening, morning }: Night, place: number): void {
  state.endPlace[evening] = place;
  state.startPlace[morning] = place;
  touch(state, evening);
  touch(state, morning);
}

/**
 * What a crew has out on the other day of a night away, which it keeps; null when it is free to choose. Where both days beside it are bound, they have the same.
 */
export function keptOutfit(state: State, slot: number): State["outfit"][number] {
  const before = isAwayBefore(state, slot) ? state.outfit[nightBefore(state, slot).evening]! : null;
  return before ?? (isAwayAfter(state, slot) ? state.outfit[nightAfter(state, slot).morning]! : null);
}

function nightAfter({ routes }: State, slot: number): Night {
  return routes.nights.find(({ evening }) => evening === slot)!;
}

function nightBefore({ routes }: State, slot: number): Night {
  return routes.nights.find(({ morning }) => morning === slot)!;
}

/**
 * Crews sleep away only between two days of work with the same things. Where one of the shelf's slots no longer has that, the crew comes home; the day that is left runs as it can, or is emptied.
 */
export function settleNights(state: State, shelf: Shelf, run: DayRun): void {
  if (state.routes.nights.length === 0) return;
  // Slots come on the shelf as they are changed, those of this loop too.
  for (let at = 0; at < shelf.slots.length; at++) {
    const slot = shelf.slots[at]!;
    const nights = [
      ...(isAwayBefore(state, slot) ? [nightBefore(state, slot)] : []),
      ...(isAwayAfter(state, slot) ? [nightAfter(state, slot)] : []),
    ];
    for (const night of nights) {
      if (mayStay(state, night)) continue;
      keepSlot(state, shelf, night.evening);
      keepSlot(state, shelf, night.morning);
      bringHome(state, night, run);
      // An emptied day may unsettle the nights of any slot before.
      at = -1;
    }
  }
}

function mayStay(state: State, { evening, morning }: Night): boolean {
  const [one, other] = [state.outfit[evening]!, state.outfit[morning]!];
  if (one === null || other === null || state.count[evening] === 0 || state.count[morning] === 0) return false;
  return state.pool.isSame(one, other);
}

/** The same for a whole state that is put back by nobody. */
export function settleAllNights(state: State, run: DayRun): void {
  const { nights } = state.routes;
  for (let at = 0; at < nights.length; at++) {
    const night = nights[at]!;
    if (state.endPlace[night.evening] === homeOf(state, night) || mayStay(state, night)) continue;
    bringHome(state, night, run);
    at = -1;
  }
}

function bringHome(state: State, night: Night, run: DayRun): void {
  sleepAt(state, night, homeOf(state, night));
  runAnew(state, night.evening, run);
  runAnew(state, night.morning, run);
}

/** Work out a slot's times and cost from its stops; where they no longer run, it is emptied. */
function runAnew(state: State, slot: number, run: DayRun): void {
  if (state.count[slot] === 0) return;
  if (state.rules!.run(slot, -1, 0, run) && chain(state, slot, run)) touch(state, slot);
  else clearStops(state, slot);
}
