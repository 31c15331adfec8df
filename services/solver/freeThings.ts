import { kindsOf, takenOf } from "./kinds.ts";
import { fitsLock, lockedSets, mayTakeAircraft, mayTakeCharger, mayTakeTender } from "./lockedThings.ts";
import type { Kit, Problem } from "./problem.ts";
import type { OutfitPool, State } from "./routes.ts";

/** Things that are out, by day. */
export interface Used {
  readonly aircraft: Uint8Array;
  readonly tender: Uint8Array;
  readonly charger: Uint8Array;
  /** sets[(day * bases + base) * types + type] */
  readonly sets: Int32Array;
}

/** Aircraft, tenders, chargers and battery sets by base, for the crews of a state. */
export interface KitPool extends OutfitPool {
  readonly used: Used;
}

function usedOf(state: State): Used {
  return (state.pool as KitPool).used;
}

/** Whether a slot could take out all things of a kit. */
export function isFree(problem: Problem, state: State, slot: number, kit: Kit): boolean {
  return (
    kit.aircraft.every((aircraft) => aircraftFree(problem, state, slot, aircraft)) &&
    kit.chargers.every((charger) => chargerFree(problem, state, slot, charger)) &&
    tenderFree(problem, state, slot, kit.tender) &&
    kindsOf(kit).every(({ option, sets }) => setsFree(problem, state, slot, option.type) >= sets) &&
    (problem.locks.lockOf[slot] === undefined || fitsLock(problem.locks, slot, takenOf(kit)))
  );
}

export function aircraftFree(problem: Problem, state: State, slot: number, aircraft: number): boolean {
  const count = problem.equipment.aircraftType.length;
  return problem.slots[slot]!.days.every(
    (day) =>
      usedOf(state).aircraft[day * count + aircraft] === 0 &&
      problem.equipment.aircraftOut[day * count + aircraft] === 0 &&
      mayTakeAircraft(problem.locks, slot, day * count + aircraft, aircraft),
  );
}

function chargerFree(problem: Problem, state: State, slot: number, charger: number): boolean {
  const count = problem.equipment.chargerBase.length;
  return problem.slots[slot]!.days.every(
    (day) =>
      usedOf(state).charger[day * count + charger] === 0 &&
      mayTakeCharger(problem.locks, slot, day * count + charger, charger),
  );
}

function tenderFree(problem: Problem, state: State, slot: number, tender: number): boolean {
  const count = problem.equipment.tenderBase.length;
  return problem.slots[slot]!.days.every(
    (day) =>
      usedOf(state).tender[day * count + tender] === 0 &&
      mayTakeTender(problem.locks, slot, day * count + tender, tender),
  );
}

export function setsFree(problem: Problem, state: State, slot: number, type: number): number {
  const { crew, days } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const bases = problem.placeOfBase.length;
  let free = Number.POSITIVE_INFINITY;
  for (const day of days) {
    const used = usedOf(state).sets[(day * bases + base) * problem.types.length + type]!;
    const kept = setsKept(problem, state, slot, day, base, type);
    free = Math.min(free, problem.equipment.stock[base * problem.types.length + type]! - used - kept);
  }
  return free;
}

/** Battery sets that locks keep for other slots which have no outfit at the moment. */
function setsKept(problem: Problem, state: State, slot: number, day: number, base: number, type: number): number {
  let kept = 0;
  for (const { slot: other } of problem.locks.slots) {
    const { crew, days } = problem.slots[other]!;
    if (other === slot || state.outfit[other] !== null || problem.baseOfCrew[crew] !== base || !days.includes(day))
      continue;
    kept += lockedSets(problem.locks, other, type) ?? 0;
  }
  return kept;
}

/** Free tenders of the crew's base that carry the aircraft of some of its options together. */
export function freeTenders(problem: Problem, state: State, slot: number, choice: readonly number[]): number[] {
  const { equipment, options } = problem;
  const { crew } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const needSlots = choice.reduce((sum, at) => {
    const option = options[crew]![at]!;
    return sum + option.count * problem.types[option.type]!.transportSlots;
  }, 0);
  const tenders: number[] = [];
  for (let t = 0; t < equipment.tenderBase.length; t++) {
    const fits = equipment.tenderBase[t] === base && equipment.tenderSlots[t]! >= needSlots;
    if (fits && tenderFree(problem, state, slot, t)) tenders.push(t);
  }
  return tenders;
}

/** Free chargers of the crew's base with the bays at which each charges at so much power, the most first. */
export function freeChargers(problem: Problem, state: State, slot: number, chargeKw: number) {
  const { equipment, operation } = problem;
  const base = problem.baseOfCrew[problem.slots[slot]!.crew]!;
  return operation.fleet.chargers
    .map((charger, index) => ({ index, bays: Math.min(charger.bays, Math.floor(charger.kw / chargeKw)) }))
    .filter(({ index }) => equipment.chargerBase[index] === base && chargerFree(problem, state, slot, index))
    .sort((a, b) => b.bays - a.bays);
}
