import { aircraftFree, freeChargers, setsFree } from "./freeThings.ts";
import { shareBays } from "./kinds.ts";
import { fitsLock, lockedSets } from "./lockedThings.ts";
import type { Kind, KindTaken, Kit, KitOption, Problem, Things } from "./problem.ts";
import type { State } from "./routes.ts";

/** Name the things for some of the crew's options: those of its nearest day first. Null when the pools do not hold enough. */
export function fillKit(
  problem: Problem,
  state: State,
  slot: number,
  choice: readonly number[],
  near: Kit | null,
  tender: number,
  fairly: boolean,
): Kit | null {
  const { crew } = problem.slots[slot]!;
  if (choice.length > 1) return fillMixed(problem, state, slot, choice, near, tender);
  const optionIndex = choice[0]!;
  const option = problem.options[crew]![optionIndex]!;
  const aircraft = aircraftFor(problem, state, slot, option, near);
  if (aircraft === null) return null;
  const sets = setsFor(problem, state, slot, option, fairly);
  if (sets === null) return null;

  const chargers: number[] = [];
  const { power } = problem.types[option.type]!;
  if (power.source === "battery") {
    const { chargeKw } = power;
    const poweredBays = Math.floor(problem.operation.fleet.tenders[tender]!.generatorKw / chargeKw);
    let bays = 0;
    // No more bays than sets that could stand in them.
    for (const charger of freeChargers(problem, state, slot, chargeKw)) {
      const isEnough = bays >= Math.min(poweredBays, sets) || charger.bays === 0;
      if (isEnough && !areChargersLocked(problem, slot)) break;
      chargers.push(charger.index);
      bays += charger.bays;
    }
    if (Math.min(bays, poweredBays) === 0) return null;
  }
  const things = { option, aircraft, sets, chargers, tender };
  if (!fitsLock(problem.locks, slot, { ...things, kinds: [things] })) return null;
  const kit = { ...things, optionIndex, signature: problem.signatures.of(things) };
  return { ...kit, profile: problem.profileOf(crew, kit) };
}

/** The same for several options. Each takes its fair share of battery sets, so that not too many ways of working have to be told apart. */
function fillMixed(
  problem: Problem,
  state: State,
  slot: number,
  choice: readonly number[],
  near: Kit | null,
  tender: number,
): Kit | null {
  const options = problem.options[problem.slots[slot]!.crew]!;
  const aircraft: number[] = [];
  const kinds: KindTaken[] = [];
  for (const at of choice) {
    const option = options[at]!;
    const its = aircraftFor(problem, state, slot, option, near);
    const sets = setsFor(problem, state, slot, option, true);
    if (its === null || sets === null) return null;
    aircraft.push(...its);
    kinds.push({ option, sets });
  }
  const baysWith = (taken: readonly number[]) =>
    shareBays(problem.operation, kinds, taken, tender)
      ?.flat()
      .reduce((sum, bays) => sum + bays, 0) ?? 0;
  let chargers: number[] = [];
  for (const { index } of freeChargers(problem, state, slot, 0)) {
    const more = [...chargers, index];
    // The first may do for one kind alone.
    if (areChargersLocked(problem, slot) || baysWith(chargers) === 0 || baysWith(more) > baysWith(chargers))
      chargers = more;
  }
  const things = { aircraft, chargers, tender };
  return fitsLock(problem.locks, slot, { ...things, kinds }) ? createMixed(problem, slot, choice, kinds, things) : null;
}

/** Then all that the lock names are taken along. */
function areChargersLocked({ locks }: Problem, slot: number): boolean {
  return (locks.lockOf[slot]?.things?.chargers ?? null) !== null;
}

/** A kit of several kinds; null when their sets cannot be charged together. */
export function createMixed(
  problem: Problem,
  slot: number,
  choice: readonly number[],
  taken: readonly KindTaken[],
  { aircraft, chargers, tender }: Pick<Things, "aircraft" | "chargers" | "tender">,
): Kit | null {
  const bays = shareBays(problem.operation, taken, chargers, tender);
  if (bays === null) return null;
  const kinds = taken.map(({ option, sets }, at): Kind => {
    const isFed = problem.types[option.type]!.power.source === "battery";
    const signature = isFed
      ? problem.signatures.of({ option, sets, chargers, tender }, bays[at])
      : problem.signatures.of({ option, sets, chargers: [], tender });
    return { option, sets, optionIndex: choice[at]!, signature };
  });
  const [first, ...also] = kinds as [Kind, ...Kind[]];
  const kit = { ...first, also, aircraft, chargers, tender };
  return { ...kit, profile: problem.profileOf(problem.slots[slot]!.crew, kit, slot) };
}

/** Free aircraft for an option, those of a kit first; null when there are too few. */
function aircraftFor(
  problem: Problem,
  state: State,
  slot: number,
  option: KitOption,
  near: Kit | null,
): number[] | null {
  const { equipment } = problem;
  const base = problem.baseOfCrew[problem.slots[slot]!.crew]!;
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
  for (const candidate of near?.aircraft ?? []) if (equipment.aircraftType[candidate] === option.type) take(candidate);
  for (let a = 0; a < equipment.aircraftType.length; a++) {
    if (equipment.aircraftType[a] === option.type && equipment.aircraftBase[a] === base) take(a);
  }
  return aircraft.length < option.count ? null : aircraft;
}

/** Battery sets for an option: what is free, or of that a fair share; 0 with fuel, null when there are too few. */
function setsFor(problem: Problem, state: State, slot: number, option: KitOption, fairly: boolean): number | null {
  if (problem.types[option.type]!.power.source === "fuel") return 0;
  const { equipment, types } = problem;
  const base = problem.baseOfCrew[problem.slots[slot]!.crew]!;
  const free = setsFree(problem, state, slot, option.type);
  const share = equipment.setsPerAircraft[base * types.length + option.type]! * option.count;
  const sets = lockedSets(problem.locks, slot, option.type) ?? (fairly ? Math.min(free, share) : free);
  return sets < option.count || sets > free ? null : sets;
}
