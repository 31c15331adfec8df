import type { Locks } from "./locks.ts";
import type { Problem, Taken } from "./problem.ts";

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
export function fitsLock({ lockOf }: Locks, slot: number, { aircraft, tender, chargers, kinds }: Taken): boolean {
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

/** What of the things that a slot would take, or is locked to, locks or the operation keep from it; null when nothing does. */
export function lockedAway(problem: Problem, slot: number, things?: Taken): string | null {
  const { locks, slots, calendar, crews, baseOfCrew, equipment } = problem;
  const { fleet, settings } = problem.operation;
  const { days, crew } = slots[slot]!;
  const base = baseOfCrew[crew]!;
  const own = locks.lockOf[slot]?.things ?? null;
  if (things !== undefined && !fitsLock(locks, slot, things)) return "other things are locked to the crew on that day";
  const aircraft = things?.aircraft ?? own?.aircraft ?? [];
  const chargers = things?.chargers ?? own?.chargers ?? [];
  const tender = things?.tender ?? own?.tender ?? null;
  const list = (
    at: readonly number[],
    of: readonly { readonly id: string }[],
    baseOf: Int32Array,
    keptFor: Int32Array,
  ) => at.map((one) => ({ id: of[one]!.id, at: one, base: baseOf[one], count: of.length, keptFor }));
  const each = [
    ...list(aircraft, fleet.aircraft, equipment.aircraftBase, locks.aircraftFor),
    ...list(chargers, fleet.chargers, equipment.chargerBase, locks.chargerFor),
    ...list(tender === null ? [] : [tender], fleet.tenders, equipment.tenderBase, locks.tenderFor),
  ];
  const away = each.find((thing) => thing.base !== base);
  if (away !== undefined) return `${away.id} is not at the crew's base ${settings.bases[base]!.id}`;
  for (const day of days) {
    const out = aircraft.find((one) => equipment.aircraftOut[day * fleet.aircraft.length + one] === 1);
    if (out !== undefined) return `${fleet.aircraft[out]!.id} is out of service on ${calendar.dates[day]}`;
    for (const { id, at, keptFor, count } of each) {
      const other = keptFor[day * count + at]!;
      if (other >= 0 && other !== slot)
        return `${id} is locked to ${crews[slots[other]!.crew]!.name} on ${calendar.dates[day]}`;
    }
  }
  return null;
}
