import { fillKit } from "./fillKit.ts";
import { freeTenders, isFree, type KitPool, type Used } from "./freeThings.ts";
import { kindsOf } from "./kinds.ts";
import { keptOutfit } from "./nights.ts";
import type { Kind, Kit, Problem } from "./problem.ts";
import { pickIndex, type Random } from "./random.ts";
import type { Claim, State } from "./routes.ts";

/** Share of choices in which a crew keeps the things of its day before, when they are free. Our choice: changing costs. */
const keepShare = 0.5;
/** Share of choices in which a crew that may take several types does, if they are there. Our choice, by trial: there are many more pairs than types. */
const mixedShare = 0.2;
/** Share of choices in which a crew takes its fair share of the battery sets, not all that are free. Our choice. */
const fairShare = 0.7;

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

/** Take a kit's things out of the pools of every day they are away, or put them back. */
function book(problem: Problem, used: Used, slot: number, kit: Kit, isOut: 0 | 1): void {
  const { days, crew } = problem.slots[slot]!;
  const { equipment, types, placeOfBase } = problem;
  const base = problem.baseOfCrew[crew]!;
  for (const day of days) {
    for (const aircraft of kit.aircraft) used.aircraft[day * equipment.aircraftType.length + aircraft] = isOut;
    for (const charger of kit.chargers) used.charger[day * equipment.chargerBase.length + charger] = isOut;
    used.tender[day * equipment.tenderBase.length + kit.tender] = isOut;
    for (const { option, sets } of kindsOf(kit)) {
      const at = (day * placeOfBase.length + base) * types.length + option.type;
      used.sets[at] = used.sets[at]! + (isOut === 1 ? sets : -sets);
    }
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
  return days.flatMap((day) => [
    ...kit.aircraft.map((one) => ({ thing: day * perDay + one, amount: 1, limit: 1 })),
    ...kit.chargers.map((one) => ({ thing: day * perDay + aircraft + one, amount: 1, limit: 1 })),
    { thing: day * perDay + firstTender + kit.tender, amount: 1, limit: 1 },
    ...kindsOf(kit).map(({ option, sets }) => {
      const stock = base * types.length + option.type;
      return { thing: day * perDay + firstStock + stock, amount: sets, limit: equipment.stock[stock]! };
    }),
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
    kindsOf(a).every(({ sets }, at) => sets === kindsOf(b)[at]?.sets) &&
    a.chargers.length === b.chargers.length &&
    a.chargers.every((charger) => b.chargers.includes(charger))
  );
}

function proposeKit(problem: Problem, state: State, slot: number, random: Random): Kit | null {
  const { crew } = problem.slots[slot]!;
  const kept = keptOutfit(state, slot) as Kit | null;
  if (kept !== null) return isFree(problem, state, slot, kept) ? onSlot(problem, slot, kept) : null;
  const choices = problem.choices[crew]!;
  const near = nearestKit(problem, state, slot);
  if (near !== null && random() < keepShare && isFree(problem, state, slot, near)) return onSlot(problem, slot, near);
  // A bigger outfit is likelier to pay: try choices by a draw weighted by the number of aircraft.
  const isMixedFirst = choices.length > problem.options[crew]!.length && random() < mixedShare;
  const keys = choices.map((choice) => {
    const count = choice.reduce((sum, option) => sum + problem.options[crew]![option]!.count, 0);
    const key = random() ** (1 / (count * count));
    return choice.length > 1 === isMixedFirst ? key : key - 1;
  });
  const tried = choices.map((_, at) => at).sort((a, b) => keys[b]! - keys[a]!);
  for (const at of tried) {
    const choice = choices[at]!;
    const tenders = freeTenders(problem, state, slot, choice);
    if (tenders.length === 0) continue;
    const tender =
      near !== null && tenders.includes(near.tender) && random() < keepShare
        ? near.tender
        : tenders[pickIndex(random, tenders.length)]!;
    const kit = fillKit(problem, state, slot, choice, near, tender, random() < fairShare);
    if (kit !== null) return kit;
  }
  return null;
}

/** A kit of the same crew on another day: which of several kinds works a block hangs on the day's windows. */
function onSlot(problem: Problem, slot: number, kit: Kit): Kit {
  if (kit.also === undefined) return kit;
  return { ...kit, profile: problem.profileOf(problem.slots[slot]!.crew, kit, slot) };
}

/** A kit in the hands of another crew, or on another day. */
function transferKit(problem: Problem, state: State, slot: number, kit: Kit): Kit | null {
  const { crew } = problem.slots[slot]!;
  const { equipment, options, baseOfCrew } = problem;
  if (equipment.tenderBase[kit.tender] !== baseOfCrew[crew] || !isFree(problem, state, slot, kit)) return null;
  const kinds = kindsOf(kit).map((kind): Kind => {
    const optionIndex = options[crew]!.findIndex(
      ({ type, count }) => type === kind.option.type && count === kind.option.count,
    );
    return { ...kind, option: options[crew]![optionIndex] ?? kind.option, optionIndex };
  });
  if (
    !mayTake(
      problem,
      crew,
      kinds.map((kind) => kind.optionIndex),
    )
  )
    return null;
  const [{ option, optionIndex }, ...also] = kinds as [Kind, ...Kind[]];
  const moved = { ...kit, option, optionIndex, ...(kit.also === undefined ? {} : { also }) };
  return { ...moved, profile: problem.profileOf(crew, moved, slot) };
}

/** Whether a crew may take out some of its options together. */
export function mayTake(problem: Problem, crew: number, options: readonly number[]): boolean {
  const wanted = options.join(" ");
  return problem.choices[crew]!.some((choice) => choice.join(" ") === wanted);
}

/** The same aircraft with another kit's tender, and the battery sets and chargers that are free beside it. */
function remakeKit(problem: Problem, state: State, slot: number, kit: Kit, { tender }: Kit): Kit | null {
  const choice = kindsOf(kit).map(({ optionIndex }) => optionIndex);
  if (!freeTenders(problem, state, slot, choice).includes(tender)) return null;
  return fillKit(problem, state, slot, choice, kit, tender, true);
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

/**
 * Every kit that the slot could still have: each option with each free tender, with all the battery sets that are free or a fair share of them. Several types are of no
 * use for a single block, but where blocks or aircraft are locked.
 */
export function freeKits(problem: Problem, state: State, slot: number, fairly = false): Kit[] {
  const isLocked = problem.locks.lockOf[slot] !== undefined;
  const choices = problem.choices[problem.slots[slot]!.crew]!.filter(({ length }) => length === 1 || isLocked);
  return choices.flatMap((choice) =>
    freeTenders(problem, state, slot, choice).flatMap((tender) => {
      const kit = fillKit(problem, state, slot, choice, null, tender, fairly);
      return kit === null ? [] : [kit];
    }),
  );
}
