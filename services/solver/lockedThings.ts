import type { Locks } from "./locks.ts";
import type { KindTaken, Things } from "./problem.ts";

/** Whether a slot may take a thing on a day: its lock names it or leaves the choice, and no other slot's lock keeps it. */
function mayTake(keptFor: Int32Array, at: number, slot: number, named: readonly number[] | null, thing: number) {
  const kept = keptFor[at]!;
  return (kept === -1 || kept === slot) && (named === null || named.includes(thing));
}

export function mayTakeAircraft({ aircraftFor, lockOf }: Locks, slot: number, at: number, aircraft: number): boolean {
  return mayTake(aircraftFor, at, slot, lockOf[slot]?.things?.aircraft ?? null, aircraft);
}

export function mayTakeCharger({ chargerFor, lockOf }: Locks, slot: number, at: number, charger: number): boolean {
  return mayTake(chargerFor, at, slot, lockOf[slot]?.things?.chargers ?? null, charger);
}

export function mayTakeTender({ tenderFor, lockOf }: Locks, slot: number, at: number, tender: number): boolean {
  const named = lockOf[slot]?.things?.tender ?? null;
  return mayTake(tenderFor, at, slot, named === null ? null : [named], tender);
}

/** Battery sets of a type that the slot's lock names; null where the planner chooses. */
export function lockedSets({ lockOf }: Locks, slot: number, type: number): number | null {
  const sets = lockOf[slot]?.things?.sets ?? null;
  return sets === null ? null : (sets.get(type) ?? 0);
}

/** Whether things are all that a slot's lock names, and nothing beside. */
export function fitsLock(
  { lockOf }: Locks,
  slot: number,
  { aircraft, tender, chargers }: Pick<Things, "aircraft" | "tender" | "chargers">,
  kinds: readonly KindTaken[],
): boolean {
  const locked = lockOf[slot]?.things ?? null;
  if (locked === null) return true;
  const isSame = (one: readonly number[], other: readonly number[]) =>
    one.length === other.length && one.every((thing) => other.includes(thing));
  return (
    (locked.aircraft === null || isSame(locked.aircraft, aircraft)) &&
    (locked.tender === null || locked.tender === tender) &&
    (locked.chargers === null || isSame(locked.chargers, chargers)) &&
    (locked.sets === null ||
      ([...locked.sets.keys()].every((type) => kinds.some(({ option }) => option.type === type)) &&
        kinds.every(({ option, sets }) => sets === (locked.sets!.get(option.type) ?? 0))))
  );
}
