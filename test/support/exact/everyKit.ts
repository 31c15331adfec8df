import type { Kit, Problem, Things } from "../../../services/solver/problem.ts";

/** How many battery sets a kit may take: as many as the planner's pools could hand out, or any number of the stock. */
export type SetsRule = "asDealt" | "any";

/**
 * Every kit that a crew could take on some day, with the things named. Those of `kits.ts`: the sets are all that other crews leave or a fair share of them, the chargers the largest of those
 * that others leave, as many as the sets and the generator can use. What others leave is taken as widely as can be.
 */
export function everyKit(problem: Problem, crew: number, setsRule: SetsRule): Kit[] {
  const { equipment, types, operation } = problem;
  const base = problem.baseOfCrew[crew]!;
  const kits = new Map<string, Kit>();
  problem.options[crew]!.forEach((option, optionIndex) => {
    const type = types[option.type]!;
    const named = indices(equipment.aircraftType).filter(
      (aircraft) => equipment.aircraftType[aircraft] === option.type && equipment.aircraftBase[aircraft] === base,
    );
    const tenders = indices(equipment.tenderBase).filter(
      (tender) =>
        equipment.tenderBase[tender] === base && equipment.tenderSlots[tender]! >= option.count * type.transportSlots,
    );
    for (const aircraft of subsets(named).filter(({ length }) => length === option.count)) {
      for (const tender of tenders) {
        const { generatorKw } = operation.fleet.tenders[tender]!;
        for (const energy of energies(problem, crew, option.type, option.count, generatorKw, setsRule)) {
          const things: Things = { option, aircraft, tender, ...energy };
          const kit = { ...things, optionIndex, signature: problem.signatures.of(things) };
          const { sets, chargers } = energy;
          const key = [optionIndex, aircraft.join(), tender, sets, chargers.join()].join(" ");
          kits.set(key, { ...kit, profile: problem.profileOf(crew, kit) });
        }
      }
    }
  });
  return withoutWaste([...kits.values()]);
}

function energies(
  problem: Problem,
  crew: number,
  typeIndex: number,
  count: number,
  generatorKw: number,
  setsRule: SetsRule,
): Pick<Things, "sets" | "chargers">[] {
  const { power } = problem.types[typeIndex]!;
  if (power.source === "fuel") return [{ sets: 0, chargers: [] }];
  const { equipment, operation } = problem;
  const base = problem.baseOfCrew[crew]!;
  const poweredBays = Math.floor(generatorKw / power.chargeKw);
  const ofBase = indices(equipment.chargerBase).filter((charger) => equipment.chargerBase[charger] === base);
  const baysOf = (charger: number) => {
    const { bays, kw } = operation.fleet.chargers[charger]!;
    return Math.min(bays, Math.floor(kw / power.chargeKw));
  };
  return dealtSets(problem, base, typeIndex, count, setsRule).flatMap((sets) =>
    subsets(ofBase).flatMap((left) => {
      const chargers: number[] = [];
      let bays = 0;
      for (const charger of left.toSorted((a, b) => baysOf(b) - baysOf(a))) {
        if (bays >= Math.min(poweredBays, sets) || baysOf(charger) === 0) break;
        chargers.push(charger);
        bays += baysOf(charger);
      }
      return Math.min(bays, poweredBays) === 0 ? [] : [{ sets, chargers: chargers.toSorted((a, b) => a - b) }];
    }),
  );
}

/** Numbers of sets that an outfit with so many aircraft may be dealt. */
function dealtSets(problem: Problem, base: number, type: number, count: number, rule: SetsRule): number[] {
  const at = base * problem.types.length + type;
  const stock = problem.equipment.stock[at]!;
  const numbers = Array.from({ length: stock + 1 }, (_, sets) => sets);
  if (rule === "any") return numbers.filter((sets) => sets >= count);
  const share = problem.equipment.setsPerAircraft[at]!;
  const counts = [...new Set(problem.options.flat().flatMap((option) => (option.type === type ? [option.count] : [])))];
  const others =
    Math.max(...problem.calendar.dates.map((_, day) => problem.slots.filter((slot) => slot.day === day).length)) - 1;
  const dealt = (free: number, aircraft: number) =>
    [free, Math.min(free, share * aircraft)].filter((sets) => sets >= aircraft);
  // Until no crew can be left with another number by what the others were dealt.
  let free = new Set([stock]);
  for (;;) {
    const taken = new Set([...free].flatMap((left) => counts.flatMap((aircraft) => dealt(left, aircraft))));
    let sums = new Set([0]);
    for (let other = 0; other < others; other++)
      sums = new Set([...sums].flatMap((sum) => [sum, ...[...taken].map((sets) => sum + sets)]));
    const next = new Set([...sums].map((sum) => stock - sum).filter((left) => left >= 0));
    if (next.size === free.size) return [...new Set([...free].flatMap((left) => dealt(left, count)))];
    free = next;
  }
}

/** Kits that work alike with things that others can spare: only those are kept that do not take along what they do not use. */
function withoutWaste(kits: readonly Kit[]): Kit[] {
  const takesAll = (a: Kit, b: Kit) =>
    a.sets >= b.sets && b.chargers.every((charger) => a.chargers.includes(charger)) && a.tender === b.tender;
  return kits.filter((kit, at) =>
    kits.every(
      (other, otherAt) =>
        otherAt === at ||
        other.profile !== kit.profile ||
        other.aircraft.join() !== kit.aircraft.join() ||
        !takesAll(kit, other) ||
        (takesAll(other, kit) && at < otherAt),
    ),
  );
}

function indices(list: ArrayLike<unknown>): number[] {
  return Array.from(list, (_, index) => index);
}

function subsets(items: readonly number[]): number[][] {
  return Array.from({ length: 1 << items.length }, (_, bits) => items.filter((_, at) => (bits & (1 << at)) !== 0));
}
