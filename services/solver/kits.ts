import type { Kit, KitOption, Problem } from "./problem.ts";
import { pickIndex, type Random } from "./random.ts";
import { type State, setKit } from "./state.ts";

/** Share of choices in which a crew keeps the things of its day before, when they are free. Our choice: changing costs. */
const keepShare = 0.5;

/**
 * Give every slot that stands empty a kit from what the pools still hold, in the order given; a slot for which nothing is left gets none. Returns
 * nothing: the kits of slots that stay empty are put back by `releaseIdleKits`.
 */
export function proposeKits(problem: Problem, state: State, slots: readonly number[], random: Random): void {
  for (const slot of slots) setKit(problem, state, slot, proposeKit(problem, state, slot, random));
}

export function releaseIdleKits(problem: Problem, state: State): void {
  for (let slot = 0; slot < problem.slots.length; slot++) {
    if (state.count[slot] === 0 && state.kit[slot] !== null) setKit(problem, state, slot, null);
  }
}

function proposeKit(problem: Problem, state: State, slot: number, random: Random): Kit | null {
  const { crew } = problem.slots[slot]!;
  const options = problem.options[crew]!;
  const near = nearestKit(problem, state, slot);
  if (near !== null && random() < keepShare && isFree(problem, state, slot, near)) return near;
  // A bigger outfit is likelier to pay: try options by a draw weighted by the number of aircraft.
  const keys = options.map((option) => random() ** (1 / (option.count * option.count)));
  const tried = options.map((_, at) => at).sort((a, b) => keys[b]! - keys[a]!);
  for (const at of tried) {
    const kit = fillKit(problem, state, slot, options[at]!, at, near, random);
    if (kit !== null) return kit;
  }
  return null;
}

/** The kit of the crew's nearest day with one, earlier days first. */
function nearestKit(problem: Problem, state: State, slot: number): Kit | null {
  const slots = problem.slotsOfCrew[problem.slots[slot]!.crew]!;
  const at = slots.indexOf(slot);
  for (let away = 1; away < slots.length; away++) {
    const before = slots[at - away];
    if (before !== undefined && state.kit[before] !== null) return state.kit[before]!;
    const after = slots[at + away];
    if (after !== undefined && state.kit[after] !== null) return state.kit[after]!;
  }
  return null;
}

function isFree(problem: Problem, state: State, slot: number, kit: Kit): boolean {
  return (
    kit.aircraft.every((aircraft) => aircraftFree(problem, state, slot, aircraft)) &&
    kit.chargers.every((charger) => chargerFree(problem, state, slot, charger)) &&
    tenderFree(problem, state, slot, kit.tender) &&
    setsFree(problem, state, slot, kit.option.type) >= kit.sets
  );
}

function aircraftFree(problem: Problem, state: State, slot: number, aircraft: number): boolean {
  const count = problem.equipment.aircraftType.length;
  return problem.slots[slot]!.days.every(
    (day) =>
      state.usedAircraft[day * count + aircraft] === 0 && problem.equipment.aircraftOut[day * count + aircraft] === 0,
  );
}

function chargerFree(problem: Problem, state: State, slot: number, charger: number): boolean {
  const count = problem.equipment.chargerBase.length;
  return problem.slots[slot]!.days.every((day) => state.usedCharger[day * count + charger] === 0);
}

function tenderFree(problem: Problem, state: State, slot: number, tender: number): boolean {
  const count = problem.equipment.tenderBase.length;
  return problem.slots[slot]!.days.every((day) => state.usedTender[day * count + tender] === 0);
}

function setsFree(problem: Problem, state: State, slot: number, type: number): number {
  const { crew, days } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const bases = problem.placeOfBase.length;
  let free = Number.POSITIVE_INFINITY;
  for (const day of days) {
    const used = state.usedSets[(day * bases + base) * problem.types.length + type]!;
    free = Math.min(free, problem.equipment.stock[base * problem.types.length + type]! - used);
  }
  return free;
}

/** Name the things for an option: those of the crew's nearest day first. Null when the pools do not hold enough. */
function fillKit(
  problem: Problem,
  state: State,
  slot: number,
  option: KitOption,
  optionIndex: number,
  near: Kit | null,
  random: Random,
): Kit | null {
  const { equipment } = problem;
  const base = problem.baseOfCrew[problem.slots[slot]!.crew]!;
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

  const needSlots = option.count * type.transportSlots;
  const tenders: number[] = [];
  for (let t = 0; t < equipment.tenderBase.length; t++) {
    const fits = equipment.tenderBase[t] === base && equipment.tenderSlots[t]! >= needSlots;
    if (fits && tenderFree(problem, state, slot, t)) tenders.push(t);
  }
  if (tenders.length === 0) return null;
  const tender =
    near !== null && tenders.includes(near.tender) && random() < keepShare
      ? near.tender
      : tenders[pickIndex(random, tenders.length)]!;

  let sets = 0;
  const chargers: number[] = [];
  if (type.power.source === "battery") {
    const share = equipment.setsPerAircraft[base * problem.types.length + option.type]!;
    sets = Math.min(setsFree(problem, state, slot, option.type), share * option.count);
    if (sets < option.count) return null;
    const { chargeKw } = type.power;
    const poweredBays = Math.floor(problem.operation.fleet.tenders[tender]!.generatorKw / chargeKw);
    let bays = 0;
    const free = problem.operation.fleet.chargers
      .map((charger, index) => ({ index, bays: Math.min(charger.bays, Math.floor(charger.kw / chargeKw)) }))
      .filter(({ index }) => equipment.chargerBase[index] === base && chargerFree(problem, state, slot, index))
      .sort((a, b) => b.bays - a.bays);
    // No more bays than sets that could stand in them.
    for (const charger of free) {
      if (bays >= Math.min(poweredBays, sets) || charger.bays === 0) break;
      chargers.push(charger.index);
      bays += charger.bays;
    }
    if (Math.min(bays, poweredBays) === 0) return null;
  }
  const kit = { option, aircraft, sets, chargers, tender };
  return { ...kit, optionIndex, signature: problem.signatures.of(kit) };
}
