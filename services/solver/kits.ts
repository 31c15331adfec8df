import { fitsLock, lockedSets, mayTakeAircraft, mayTakeCharger, mayTakeTender } from "./lockedThings.ts";
import { keptOutfit } from "./nights.ts";
import type { Kit, KitOption, Problem } from "./problem.ts";
import { pickIndex, type Random } from "./random.ts";
import type { Claim, OutfitPool, State } from "./routes.ts";

/** Share of choices in which a crew keeps the things of its day before, when they are free. Our choice: changing costs. */
const keepShare = 0.5;
/** Share of choices in which a crew takes its fair share of the battery sets, not all that are free. Our choice. */
const fairShare = 0.7;

/** Things that are out, by day. */
interface Used {
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

export function createKitPool(problem: Problem, state: State): KitPool {
  const { calendar, equipment, placeOfBase, types } = problem;
  const days = calendar.dates.length;
  const used: Used = {
    aircraft: new Uint8Array(days * equipment.aircraftType.length),
    tender: new Uint8Array(days * equipment.tenderBase.length),
    charger: new Uint8Array(days * equipment.chargerBase.length),
    sets: new Int32Array(days * placeOfBase.length * types.length),
  };
  return {
    used,
    propose: (slot, random) => proposeKit(problem, state, slot, random),
    remake: (slot, kit, other) => remakeKit(problem, state, slot, kit as Kit, other as Kit),
    transfer: (slot, kit) => transferKit(problem, state, slot, kit as Kit),
    claims: (slot, kit) => claimsOf(problem, slot, kit as Kit),
    isSame: (one, other) => isSameKit(one as Kit, other as Kit),
    book: (slot, kit, isOut) => book(problem, used, slot, kit as Kit, isOut),
    changeCents: () => outfitChanges(problem, state) * problem.operation.settings.planning.outfitChangeCents,
  };
}

export function kitOf(state: State, slot: number): Kit | null {
  return state.outfit[slot] as Kit | null;
}

function usedOf(state: State): Used {
  return (state.pool as KitPool).used;
}

/** Take a kit's things out of the pools of every day they are away, or put them back. */
function book(problem: Problem, used: Used, slot: number, kit: Kit, isOut: 0 | 1): void {
  const { days, crew } = problem.slots[slot]!;
  const { equipment, types, placeOfBase } = problem;
  const base = problem.baseOfCrew[crew]!;
  for (const day of days) {
    for (const aircraft of kit.aircraft) used.aircraft[day * equipment.aircraftType.length + aircraft] = isOut;
    for (const charger of kit.chargers) used.charger[day * equipment.chargerBase.length + charger] = isOut;
    used.tender[day * equipment.tenderBase.length + kit.tender] = isOut;
    const sets = (day * placeOfBase.length + base) * types.length + kit.option.type;
    used.sets[sets] = used.sets[sets]! + (isOut === 1 ? kit.sets : -kit.sets);
  }
}

function claimsOf(problem: Problem, slot: number, kit: Kit): Claim[] {
  const { days, crew } = problem.slots[slot]!;
  const { equipment, types, placeOfBase } = problem;
  const base = problem.baseOfCrew[crew]!;
  const [aircraft, chargers] = [equipment.aircraftType.length, equipment.chargerBase.length];
  const firstTender = aircraft + chargers;
  const firstStock = firstTender + equipment.tenderBase.length;
  const perDay = firstStock + placeOfBase.length * types.length;
  const stock = base * types.length + kit.option.type;
  return days.flatMap((day) => [
    ...kit.aircraft.map((one) => ({ thing: day * perDay + one, amount: 1, limit: 1 })),
    ...kit.chargers.map((one) => ({ thing: day * perDay + aircraft + one, amount: 1, limit: 1 })),
    { thing: day * perDay + firstTender + kit.tender, amount: 1, limit: 1 },
    { thing: day * perDay + firstStock + stock, amount: kit.sets, limit: equipment.stock[stock]! },
  ]);
}

function outfitChanges(problem: Problem, state: State): number {
  let changes = 0;
  for (const slots of problem.slotsOfCrew) {
    let before = -1;
    for (const slot of slots) {
      if (state.count[slot] === 0) continue;
      if (before >= 0 && !isSameOutfit(kitOf(state, before)!, kitOf(state, slot)!)) changes++;
      before = slot;
    }
  }
  return changes;
}

function isSameOutfit(a: Kit, b: Kit): boolean {
  return (
    a.tender === b.tender &&
    a.aircraft.length === b.aircraft.length &&
    a.aircraft.every((aircraft) => b.aircraft.includes(aircraft))
  );
}

/** With the same sets and chargers, too. */
function isSameKit(a: Kit, b: Kit): boolean {
  return (
    isSameOutfit(a, b) &&
    a.sets === b.sets &&
    a.chargers.length === b.chargers.length &&
    a.chargers.every((charger) => b.chargers.includes(charger))
  );
}

function proposeKit(problem: Problem, state: State, slot: number, random: Random): Kit | null {
  const { crew } = problem.slots[slot]!;
  const kept = keptOutfit(state, slot) as Kit | null;
  if (kept !== null) return isFree(problem, state, slot, kept) ? kept : null;
  const options = problem.options[crew]!;
  const near = nearestKit(problem, state, slot);
  if (near !== null && random() < keepShare && isFree(problem, state, slot, near)) return near;
  // A bigger outfit is likelier to pay: try options by a draw weighted by the number of aircraft.
  const keys = options.map((option) => random() ** (1 / (option.count * option.count)));
  const tried = options.map((_, at) => at).sort((a, b) => keys[b]! - keys[a]!);
  for (const at of tried) {
    const tenders = freeTenders(problem, state, slot, options[at]!);
    if (tenders.length === 0) continue;
    const tender =
      near !== null && tenders.includes(near.tender) && random() < keepShare
        ? near.tender
        : tenders[pickIndex(random, tenders.length)]!;
    const kit = fillKit(problem, state, slot, at, near, tender, random() < fairShare);
    if (kit !== null) return kit;
  }
  return null;
}

/** A kit in the hands of another crew, or on another day. */
function transferKit(problem: Problem, state: State, slot: number, kit: Kit): Kit | null {
  const { crew } = problem.slots[slot]!;
  const { equipment, options, baseOfCrew } = problem;
  if (equipment.tenderBase[kit.tender] !== baseOfCrew[crew] || !isFree(problem, state, slot, kit)) return null;
  const optionIndex = options[crew]!.findIndex(
    ({ type, count }) => type === kit.option.type && count === kit.option.count,
  );
  if (optionIndex < 0) return null;
  const moved = { ...kit, option: options[crew]![optionIndex]!, optionIndex };
  return { ...moved, profile: problem.profileOf(crew, moved) };
}

/** The same aircraft with another kit's tender, and the battery sets and chargers that are free beside it. */
function remakeKit(problem: Problem, state: State, slot: number, kit: Kit, { tender }: Kit): Kit | null {
  if (!freeTenders(problem, state, slot, kit.option).includes(tender)) return null;
  return fillKit(problem, state, slot, kit.optionIndex, kit, tender, true);
}

/** The kit of the crew's nearest day with one, earlier days first. */
function nearestKit(problem: Problem, state: State, slot: number): Kit | null {
  const slots = problem.slotsOfCrew[problem.slots[slot]!.crew]!;
  const at = slots.indexOf(slot);
  for (let away = 1; away < slots.length; away++) {
    const before = slots[at - away];
    if (before !== undefined && state.outfit[before] !== null) return kitOf(state, before);
    const after = slots[at + away];
    if (after !== undefined && state.outfit[after] !== null) return kitOf(state, after);
  }
  return null;
}

function isFree(problem: Problem, state: State, slot: number, kit: Kit): boolean {
  return (
    kit.aircraft.every((aircraft) => aircraftFree(problem, state, slot, aircraft)) &&
    kit.chargers.every((charger) => chargerFree(problem, state, slot, charger)) &&
    tenderFree(problem, state, slot, kit.tender) &&
    setsFree(problem, state, slot, kit.option.type) >= kit.sets &&
    fitsLock(problem.locks, slot, kit)
  );
}

function aircraftFree(problem: Problem, state: State, slot: number, aircraft: number): boolean {
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

function setsFree(problem: Problem, state: State, slot: number, type: number): number {
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

/** Every kit that the slot could still have: each option with each free tender, with all the battery sets that are free or a fair share of them. */
export function freeKits(problem: Problem, state: State, slot: number, fairly = false): Kit[] {
  return problem.options[problem.slots[slot]!.crew]!.flatMap((option, at) =>
    freeTenders(problem, state, slot, option).flatMap((tender) => {
      const kit = fillKit(problem, state, slot, at, null, tender, fairly);
      return kit === null ? [] : [kit];
    }),
  );
}

function freeTenders(problem: Problem, state: State, slot: number, option: KitOption): number[] {
  const { equipment } = problem;
  const base = problem.baseOfCrew[problem.slots[slot]!.crew]!;
  const needSlots = option.count * problem.types[option.type]!.transportSlots;
  const tenders: number[] = [];
  for (let t = 0; t < equipment.tenderBase.length; t++) {
    const fits = equipment.tenderBase[t] === base && equipment.tenderSlots[t]! >= needSlots;
    if (fits && tenderFree(problem, state, slot, t)) tenders.push(t);
  }
  return tenders;
}

/** Name the things for an option: those of the crew's nearest day first. Null when the pools do not hold enough. */
function fillKit(
  problem: Problem,
  state: State,
  slot: number,
  optionIndex: number,
  near: Kit | null,
  tender: number,
  fairly: boolean,
): Kit | null {
  const { equipment } = problem;
  const { crew } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const option = problem.options[crew]![optionIndex]!;
  const type = problem.types[option.type]!;

  const aircraft: number[] = [];
  const take = (candidate: number) => {
    if (
      aircraft.length < option.count &&
      !aircraft.includes(candidate) &&
      aircraftFree(problem, state, slot, candidate)
    ) {
      aircraft.push(candidate);
    }
  };
  if (near !== null && near.option.type === option.type) near.aircraft.forEach(take);
  for (let a = 0; a < equipment.aircraftType.length; a++) {
    if (equipment.aircraftType[a] === option.type && equipment.aircraftBase[a] === base) take(a);
  }
  if (aircraft.length < option.count) return null;

  let sets = 0;
  const chargers: number[] = [];
  if (type.power.source === "battery") {
    const free = setsFree(problem, state, slot, option.type);
    const share = equipment.setsPerAircraft[base * problem.types.length + option.type]! * option.count;
    const locked = lockedSets(problem.locks, slot, option.type);
    sets = locked ?? (fairly ? Math.min(free, share) : free);
    if (sets < option.count || sets > free) return null;
    const { chargeKw } = type.power;
    const poweredBays = Math.floor(problem.operation.fleet.tenders[tender]!.generatorKw / chargeKw);
    let bays = 0;
    const freeChargers = problem.operation.fleet.chargers
      .map((charger, index) => ({ index, bays: Math.min(charger.bays, Math.floor(charger.kw / chargeKw)) }))
      .filter(({ index }) => equipment.chargerBase[index] === base && chargerFree(problem, state, slot, index))
      .sort((a, b) => b.bays - a.bays);
    // No more bays than sets that could stand in them.
    for (const charger of freeChargers) {
      const isEnough = bays >= Math.min(poweredBays, sets) || charger.bays === 0;
      if (isEnough && problem.locks.lockOf[slot]?.things?.chargers == null) break;
      chargers.push(charger.index);
      bays += charger.bays;
    }
    if (Math.min(bays, poweredBays) === 0) return null;
  }
  const things = { option, aircraft, sets, chargers, tender };
  if (!fitsLock(problem.locks, slot, things)) return null;
  const kit = { ...things, optionIndex, signature: problem.signatures.of(things) };
  return { ...kit, profile: problem.profileOf(crew, kit) };
}
