import { counted } from "../../../shared/plan/words.ts";
import { kitOf } from "../kits.ts";
import { lockedAway } from "../lockedThings.ts";
import type { Kit, Problem, Things } from "../problem.ts";
import type { State } from "../routes.ts";

/** The kit of these things for a slot, or why the crew cannot take them out in a state as it stands. */
export function kitFor(problem: Problem, state: State, slot: number, things: Things): Kit | string {
  const { equipment, types, options } = problem;
  const { crew } = problem.slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  const type = types[things.option.type]!;
  const { fleet, settings } = problem.operation;
  const away = [
    ...things.aircraft.filter((one) => equipment.aircraftBase[one] !== base).map((one) => fleet.aircraft[one]!.id),
    ...things.chargers.filter((one) => equipment.chargerBase[one] !== base).map((one) => fleet.chargers[one]!.id),
    ...(equipment.tenderBase[things.tender] === base ? [] : [fleet.tenders[things.tender]!.id]),
  ];
  if (away.length > 0) return `${away.join(", ")} is not at the crew's base ${settings.bases[base]!.id}`;

  const optionIndex = options[crew]!.findIndex(
    (one) => one.type === things.option.type && one.count === things.option.count,
  );
  if (optionIndex < 0) return `the crew's people cannot fly ${things.option.count} × ${type.name} at once`;
  const tenderSlots = equipment.tenderSlots[things.tender]!;
  const needSlots = things.option.count * type.transportSlots;
  if (needSlots > tenderSlots) return `the tender has ${tenderSlots} places for aircraft, these take ${needSlots}`;
  if (type.power.source === "battery") {
    if (things.sets < things.option.count) {
      return `${counted(things.sets, "battery set", "battery sets")} for ${counted(things.option.count, "aircraft", "aircraft")}; each needs one`;
    }
  } else if (things.sets > 0) return `${type.name} flies on fuel and takes no battery sets`;

  const locked = lockedAway(problem, slot, things);
  if (locked !== null) return locked;
  const taken = takenFrom(problem, state, slot, things);
  if (taken !== null) return taken;
  const option = options[crew]![optionIndex]!;
  const kit = { ...things, option, optionIndex, signature: problem.signatures.of({ ...things, option }) };
  if (problem.signatures.at(kit.signature).charge?.bays === 0) {
    return "no charging bay works at the field with these chargers and the tender's generator";
  }
  return { ...kit, profile: problem.profileOf(crew, kit) };
}

/** What is out of service, with another crew-day, or short in the pool on a day of the slot. */
function takenFrom(problem: Problem, state: State, slot: number, things: Things): string | null {
  const { equipment, types, calendar, crews, slots } = problem;
  const { fleet } = problem.operation;
  const { days, crew } = slots[slot]!;
  const base = problem.baseOfCrew[crew]!;
  for (const day of days) {
    const date = calendar.dates[day]!;
    const out = things.aircraft.find((one) => equipment.aircraftOut[day * fleet.aircraft.length + one] === 1);
    if (out !== undefined) return `${fleet.aircraft[out]!.id} is out of service on ${date}`;
    const stockAt = base * types.length + things.option.type;
    let sets = things.sets;
    for (const [other, { days: otherDays, crew: otherCrew }] of slots.entries()) {
      const kit = kitOf(state, other);
      if (other === slot || kit === null || !otherDays.includes(day)) continue;
      const both = [
        ...things.aircraft.filter((one) => kit.aircraft.includes(one)).map((one) => fleet.aircraft[one]!.id),
        ...things.chargers.filter((one) => kit.chargers.includes(one)).map((one) => fleet.chargers[one]!.id),
        ...(things.tender === kit.tender ? [fleet.tenders[kit.tender]!.id] : []),
      ];
      if (both.length > 0) return `${both.join(", ")} is with ${crews[otherCrew]!.id} on ${date}`;
      if (problem.baseOfCrew[otherCrew] === base && kit.option.type === things.option.type) sets += kit.sets;
    }
    if (sets > equipment.stock[stockAt]!) {
      return `${sets} battery sets would be out on ${date}, the base has charged ${equipment.stock[stockAt]}`;
    }
  }
  return null;
}
