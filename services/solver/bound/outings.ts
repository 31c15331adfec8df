import { bestSignaturesOf } from "../compileWork.ts";
import type { KitOption, Problem } from "../problem.ts";

/** What is shared by slots: no more of it than its capacity may be out. */
export interface SharedLimit {
  readonly kind: "aircraft" | "tender" | "charger" | "dutyMin" | "apart";
  readonly capacity: number;
  /** Of things: the day and the base; of duty: the first of seven days, and the crew. */
  readonly day: number;
  readonly base: number;
  /** Aircraft type, first of the tenders that are alike, or crew; -1 for chargers. */
  readonly of: number;
}

/** One way to go out on a slot: aircraft of a type, so many, with one kind of tender, and everything of batteries and chargers that the base has. */
export interface Outing {
  readonly slot: number;
  readonly option: KitOption;
  /** Those that are alike: one of them goes out. */
  readonly tenders: readonly number[];
  readonly profile: number;
  /** Limits of which it takes from, and how much. */
  readonly limits: readonly number[];
  readonly amounts: readonly number[];
}

export interface Outings {
  readonly list: readonly Outing[];
  readonly limits: SharedLimit[];
  /** Limits on duty that hold a slot, by slot. */
  readonly dutyLimits: readonly (readonly number[])[];
}

export function everyOuting(problem: Problem): Outings {
  const limits: SharedLimit[] = [];
  const known = new Map<string, number>();
  const limitOf = (kind: SharedLimit["kind"], day: number, base: number, of: number, capacity: () => number) => {
    const key = [kind, day, base, of].join(" ");
    const index = known.get(key) ?? limits.push({ kind, day, base, of, capacity: capacity() }) - 1;
    known.set(key, index);
    return index;
  };
  const tenderKinds = alikeTenders(problem);

  const list: Outing[] = [];
  problem.slots.forEach(({ crew, days }, slot) => {
    const base = problem.baseOfCrew[crew]!;
    const seen = new Set<string>();
    problem.options[crew]!.forEach((option, optionIndex) => {
      const type = problem.types[option.type]!;
      for (const { kind, profile } of bestKits(problem, crew, optionIndex, tenderKinds)) {
        const key = [option.type, option.count, kind].join(" ");
        if (seen.has(key)) continue;
        seen.add(key);
        const uses: [limit: number, amount: number][] = [];
        for (const day of days) {
          uses.push([
            limitOf("aircraft", day, base, option.type, () => aircraftAt(problem, day, base, option.type)),
            option.count,
          ]);
          uses.push([
            limitOf("tender", day, base, kind, () => tenderKinds.filter((other) => other === kind).length),
            1,
          ]);
          if (type.power.source === "battery") {
            uses.push([limitOf("charger", day, base, -1, () => chargersAt(problem, base)), 1]);
          }
        }
        if (uses.some(([limit, amount]) => amount > limits[limit]!.capacity)) continue;
        list.push({
          slot,
          option,
          tenders: tenderKinds.flatMap((other, tender) => (other === kind ? [tender] : [])),
          profile,
          limits: uses.map(([limit]) => limit),
          amounts: uses.map(([, amount]) => amount),
        });
      }
    });
  });

  const dutyLimits: number[][] = problem.slots.map(() => []);
  problem.slotsOfCrew.forEach((slots, crew) => {
    const { dutyMaxHoursPerWeek, dutyMaxHoursPerDay } = problem.crews[crew]!;
    const lastDay = Math.max(0, problem.calendar.dates.length - weekDays);
    for (let day = 0; day <= lastDay; day++) {
      const within = slots.filter(
        (slot) => problem.slots[slot]!.day >= day && problem.slots[slot]!.day < day + weekDays,
      );
      if (within.length * dutyMaxHoursPerDay <= dutyMaxHoursPerWeek) continue;
      const limit = limitOf("dutyMin", day, problem.baseOfCrew[crew]!, crew, () => dutyMaxHoursPerWeek * 60);
      for (const slot of within) dutyLimits[slot]!.push(limit);
    }
  });
  return { list, limits, dutyLimits };
}

const weekDays = 7;

/** The best kit of an option with each kind of tender that carries it. */
function bestKits(problem: Problem, crew: number, optionIndex: number, tenderKinds: readonly number[]) {
  const { operation, equipment, signatures } = problem;
  const option = problem.options[crew]![optionIndex]!;
  const tenders = operation.fleet.tenders;
  return bestSignaturesOf(operation, equipment, signatures, problem.baseOfCrew[crew]!, option).map((signature) => {
    const { sets, tender } = signatures.at(signature);
    const tenderIndex = tenders.indexOf(tender);
    const kit = { option, optionIndex, aircraft: [], sets, chargers: [], tender: tenderIndex, signature };
    return { kind: tenderKinds[tenderIndex]!, profile: problem.profileOf(crew, kit) };
  });
}

/** For every tender the first of its base that does as much. */
function alikeTenders({ operation }: Problem): number[] {
  const first = new Map<string, number>();
  return operation.fleet.tenders.map(
    ({ baseId, waterL, mixLPerMin, pumpLPerMin, loadingPoints, generatorKw, transportSlots }, tender) => {
      const key = [waterL, mixLPerMin, pumpLPerMin, loadingPoints, generatorKw, transportSlots, baseId].join(" ");
      if (!first.has(key)) first.set(key, tender);
      return first.get(key)!;
    },
  );
}

/** In service, and with battery sets to fly on. */
function aircraftAt({ equipment, types }: Problem, day: number, base: number, type: number): number {
  const { aircraftType, aircraftBase, aircraftOut, stock } = equipment;
  let count = 0;
  for (let a = 0; a < aircraftType.length; a++) {
    const isThere = aircraftType[a] === type && aircraftBase[a] === base;
    if (isThere && aircraftOut[day * aircraftType.length + a] === 0) count++;
  }
  return types[type]!.power.source === "battery" ? Math.min(count, stock[base * types.length + type]!) : count;
}

/** Whoever flies on batteries takes a charger along. */
function chargersAt({ equipment }: Problem, base: number): number {
  return equipment.chargerBase.filter((at) => at === base).length;
}
