import type { Calendar } from "../../shared/model/calendar.ts";
import { addDays } from "../../shared/model/calendar.ts";
import type { Crew, Person } from "../../shared/model/fleet.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { morningSets } from "./nightCharging.ts";
import type { CrewDaySlot, Equipment, KitOption } from "./problem.ts";

/** Slots by crew and then day, so that a crew's days stand in order. */
export function compileSlots(operation: Operation, calendar: Calendar): CrewDaySlot[] {
  const slots: CrewDaySlot[] = [];
  operation.fleet.crews.forEach((crew, crewIndex) => {
    for (let day = 0; day < calendar.dates.length; day++) {
      const shift = crew.shifts.find(({ date }) => date === calendar.dates[day]);
      if (shift === undefined) continue;
      const endDate = shift.to > shift.from ? shift.date : addDays(shift.date, 1);
      const days = endDate === shift.date || day + 1 >= calendar.dates.length ? [day] : [day, day + 1];
      slots.push({
        crew: crewIndex,
        day,
        shiftFromMin: calendar.minOfLocal(`${shift.date}T${shift.from}`),
        shiftToMin: calendar.minOfLocal(`${endDate}T${shift.to}`),
        days,
      });
    }
  });
  return slots;
}

/** Every type and number of aircraft that the crew's home base holds and its people may fly at once. */
export function compileOptions(operation: Operation, crew: Crew): KitOption[] {
  const options: KitOption[] = [];
  operation.fleet.aircraftTypes.forEach((type, typeIndex) => {
    const atBase = operation.fleet.aircraft.filter(
      (aircraft) => aircraft.baseId === crew.baseId && aircraft.typeId === type.id,
    ).length;
    const flown = flownAtOnce(crew.people.filter((person) => person.ratings.includes(type.id)));
    const most = Math.min(crew.maxAircraft, atBase, flown);
    for (let count = 1; count <= most; count++) options.push({ type: typeIndex, count });
  });
  return options;
}

/**
 * What the crew may take out: each of its options, and where it may take several types each two options of different types that its people may work with, a tender of
 * its base carries, and whose chargers that tender's generator can feed at once.
 */
export function compileChoices(operation: Operation, crew: Crew, options: readonly KitOption[]): number[][] {
  const single = options.map((_, option) => [option]);
  if (!crew.mixedOutfit) return single;
  const { aircraftTypes, tenders } = operation.fleet;
  const both = options.flatMap((one, at) =>
    options.flatMap((other, otherAt) => {
      if (otherAt <= at || other.type === one.type || one.count + other.count > crew.maxAircraft) return [];
      const places = placesOf(one) + placesOf(other);
      const kw = chargeKwOf(one) + chargeKwOf(other);
      const goes = tenders.some(
        (tender) => tender.baseId === crew.baseId && tender.transportSlots >= places && tender.generatorKw >= kw,
      );
      return goes ? [[at, otherAt]] : [];
    }),
  );
  return [...single, ...both];

  function placesOf({ type, count }: KitOption): number {
    return count * aircraftTypes[type]!.transportSlots;
  }
  function chargeKwOf({ type }: KitOption): number {
    const { power } = aircraftTypes[type]!;
    return power.source === "battery" ? power.chargeKw : 0;
  }
}

function flownAtOnce(people: readonly Person[]): number {
  return people.reduce((sum, person) => sum + person.aircraftAtOnce, 0);
}

/** qualified[option * licences + licence]: enough people with the rating and every class of the set. */
export function compileQualified(
  operation: Operation,
  crew: Crew,
  options: readonly KitOption[],
  licenceSets: readonly (readonly string[])[],
): Uint8Array {
  const qualified = new Uint8Array(options.length * licenceSets.length);
  options.forEach((option, at) => {
    const typeId = operation.fleet.aircraftTypes[option.type]!.id;
    licenceSets.forEach((classes, set) => {
      const people = crew.people.filter(
        (person) => person.ratings.includes(typeId) && classes.every((name) => person.licenceClasses.includes(name)),
      );
      qualified[at * licenceSets.length + set] = flownAtOnce(people) >= option.count ? 1 : 0;
    });
  });
  return qualified;
}

export function compileEquipment(operation: Operation, calendar: Calendar): Equipment {
  const { fleet, settings } = operation;
  const baseIndex = new Map(settings.bases.map((base, index) => [base.id, index]));
  const typeIndex = new Map(fleet.aircraftTypes.map((type, index) => [type.id, index]));
  const types = fleet.aircraftTypes.length;
  const stock = new Int32Array(settings.bases.length * types);
  for (const { baseId, aircraftTypeId, sets } of fleet.batteryStocks) {
    const at = baseIndex.get(baseId)! * types + typeIndex.get(aircraftTypeId)!;
    stock[at] = stock[at]! + morningSets(operation, baseId, sets);
  }
  const aircraftAt = new Int32Array(stock.length);
  for (const { baseId, typeId } of fleet.aircraft) {
    const at = baseIndex.get(baseId)! * types + typeIndex.get(typeId)!;
    aircraftAt[at] = aircraftAt[at]! + 1;
  }
  return {
    aircraftType: Int32Array.from(fleet.aircraft, ({ typeId }) => typeIndex.get(typeId)!),
    aircraftBase: Int32Array.from(fleet.aircraft, ({ baseId }) => baseIndex.get(baseId)!),
    aircraftOut: Uint8Array.from(
      calendar.dates.flatMap((date) =>
        fleet.aircraft.map(({ outOfService }) =>
          outOfService.some(({ from, to }) => from <= date && date <= to) ? 1 : 0,
        ),
      ),
    ),
    tenderBase: Int32Array.from(fleet.tenders, ({ baseId }) => baseIndex.get(baseId)!),
    tenderSlots: Int32Array.from(fleet.tenders, ({ transportSlots }) => transportSlots),
    tenderWaterL: Float64Array.from(fleet.tenders, ({ waterL }) => waterL),
    chargerBase: Int32Array.from(fleet.chargers, ({ baseId }) => baseIndex.get(baseId)!),
    stock,
    setsPerAircraft: stock.map((sets, at) =>
      sets > 0 && aircraftAt[at]! > 0 ? Math.max(1, Math.floor(sets / aircraftAt[at]!)) : 0,
    ),
  };
}
