import { counted } from "../../../shared/plan/words.ts";
import { createMixed } from "../fillKit.ts";
import { kindsOf } from "../kinds.ts";
import { kitOf, mayTake } from "../kits.ts";
import { lockedAway } from "../lockedThings.ts";
import type { KindTaken, Kit, Problem, Taken } from "../problem.ts";
import type { State } from "../routes.ts";

/** The kit of these things for a slot, or why the crew cannot take them out in a state as it stands. */
export function kitFor(problem: Problem, state: State, slot: number, things: Taken): Kit | string {
  const { equipment, types, options } = problem;
  const { crew } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const { fleet, settings } = problem.operation;
  const away = [
    ...things.aircraft.filter((one) => equipment.aircraftBase[one] !== base).map((one) => fleet.aircraft[one]!.id),
    ...things.chargers.filter((one) => equipment.chargerBase[one] !== base).map((one) => fleet.chargers[one]!.id),
    ...(equipment.tenderBase[things.tender] === base ? [] : [fleet.tenders[things.tender]!.id]),
  ];
  if (away.length > 0) return `${away.join(", ")} is not at the crew's base ${settings.bases[base]!.id}`;

  const choice: number[] = [];
  for (const { option } of things.kinds) {
    const at = options[crew]!.findIndex((one) => one.type === option.type && one.count === option.count);
    if (at < 0) return `the crew's people cannot fly ${option.count} × ${types[option.type]!.name} at once`;
    choice.push(at);
  }
  const tenderSlots = equipment.tenderSlots[things.tender]!;
  const needSlots = things.kinds.reduce(
    (sum, { option }) => sum + option.count * types[option.type]!.transportSlots,
    0,
  );
  if (needSlots > tenderSlots) return `the tender has ${tenderSlots} places for aircraft, these take ${needSlots}`;
  for (const kind of things.kinds) {
    const wrong = wrongSets(problem, kind);
    if (wrong !== null) return wrong;
  }
  if (!mayTake(problem, crew, choice)) return mayNotMix(problem, crew, things.kinds);

  const locked = lockedAway(problem, slot, things);
  if (locked !== null) return locked;
  const taken = takenFrom(problem, state, slot, things);
  if (taken !== null) return taken;
  const noBay = "no charging bay works at the field with these chargers and the tender's generator";
  if (things.kinds.length > 1)
    return createMixed(problem, slot, choice, things.kinds, things) ?? `${noBay} for each type`;
  const { kinds, ...rest } = things;
  const optionIndex = choice[0]!;
  const kind = { ...kinds[0]!, option: options[crew]![optionIndex]! };
  const kit = { ...rest, ...kind, optionIndex, signature: problem.signatures.of({ ...rest, ...kind }) };
  if (problem.signatures.at(kit.signature).charge?.bays === 0) return noBay;
  return { ...kit, profile: problem.profileOf(crew, kit) };
}

function wrongSets({ types }: Problem, { option, sets }: KindTaken): string | null {
  const type = types[option.type]!;
  if (type.power.source === "fuel") return sets > 0 ? `${type.name} flies on fuel and takes no battery sets` : null;
  return sets < option.count
    ? `${counted(sets, "battery set", "battery sets")} for ${counted(option.count, "aircraft", "aircraft")}; each needs one`
    : null;
}

function mayNotMix({ crews, types }: Problem, crew: number, kinds: readonly KindTaken[]): string {
  const { mixedOutfit, maxAircraft } = crews[crew]!;
  if (!mixedOutfit) return "the crew takes out aircraft of one type on a day";
  if (kinds.length > 2) return "the crew takes out aircraft of at most two types on a day";
  const names = kinds.map(({ option }) => `${option.count} × ${types[option.type]!.name}`).join(" and ");
  return `the crew cannot work with ${names} together: at most ${counted(maxAircraft, "aircraft", "aircraft")}, a tender that carries them, a generator that feeds a bay for each type`;
}

/** What is out of service, with another crew-day, or short in the pool on a day of the slot. */
function takenFrom(problem: Problem, state: State, slot: number, things: Taken): string | null {
  const { equipment, types, calendar, crews, slots } = problem;
  const { fleet } = problem.operation;
  const { days, crew } = slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  for (const day of days) {
    const date = calendar.dates[day]!;
    const out = things.aircraft.find((one) => equipment.aircraftOut[day * fleet.aircraft.length + one] === 1);
    if (out !== undefined) return `${fleet.aircraft[out]!.id} is out of service on ${date}`;
    const setsOut = new Map(things.kinds.map(({ option, sets }) => [option.type, sets]));
    for (const [other, { days: otherDays, crew: otherCrew }] of slots.entries()) {
      const kit = kitOf(state, other);
      if (other === slot || kit === null || !otherDays.includes(day)) continue;
      const both = [
        ...things.aircraft.filter((one) => kit.aircraft.includes(one)).map((one) => fleet.aircraft[one]!.id),
        ...things.chargers.filter((one) => kit.chargers.includes(one)).map((one) => fleet.chargers[one]!.id),
        ...(things.tender === kit.tender ? [fleet.tenders[kit.tender]!.id] : []),
      ];
      if (both.length > 0) return `${both.join(", ")} is with ${crews[otherCrew]!.id} on ${date}`;
      if (problem.baseOfCrew[otherCrew] !== base) continue;
      for (const { option, sets } of kindsOf(kit)) {
        const before = setsOut.get(option.type);
        if (before !== undefined) setsOut.set(option.type, before + sets);
      }
    }
    for (const [type, sets] of setsOut) {
      const stock = equipment.stock[base * types.length + type]!;
      if (sets > stock) return `${sets} battery sets would be out on ${date}, the base has charged ${stock}`;
    }
  }
  return null;
}
