import type { AircraftType, Crew, Person } from "../../model/fleet.ts";
import { checkBatteryStock } from "./batteryStock.ts";
import { type Day, distinctTypes, type Facts, overlap, type Stop } from "./facts.ts";
import { keepsUntilMin } from "./nights.ts";
import { type Ledger, rounding, type Subject, shown } from "./report.ts";

/** The rules about who goes out with what. */
export function checkOutfits(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    checkMaxAircraft(ledger, day);
    checkMixedOutfit(ledger, day);
    checkHomeBase(ledger, day);
    checkTransportSlots(ledger, day);
    for (const type of distinctTypes(day)) checkPower(ledger, day, type);
    checkSharedBays(ledger, day);
    checkOutOfService(ledger, day);
  }
  for (const stop of facts.stops) {
    checkAtWork(ledger, stop);
    checkQualified(ledger, stop);
  }
  checkBatteryStock(facts, ledger);
  checkOneCrewAtATime(facts, ledger);
}

function checkMaxAircraft(ledger: Ledger, { crew, crewDay, subject }: Day): void {
  if (crew === undefined) return;
  const count = crewDay.outfit.aircraftIds.length;
  ledger.expect("maxAircraft", count <= crew.maxAircraft, subject, () => ({
    sentence: `crew ${crew.id} takes ${count} aircraft, it works at most ${crew.maxAircraft} at once`,
    actual: count,
    allowed: crew.maxAircraft,
  }));
}

function checkMixedOutfit(ledger: Ledger, day: Day): void {
  const { crew, subject } = day;
  if (crew === undefined) return;
  const types = distinctTypes(day);
  ledger.expect("mixedOutfit", types.length < 2 || crew.mixedOutfit === true, subject, () => ({
    sentence: `crew ${crew.id} takes aircraft of types ${types.map(({ id }) => id).join(", ")}, it takes one type on a day`,
    actual: types.length,
    allowed: 1,
  }));
}

/** Aircraft that a work names are of the outfit and of one type, each named once. */
function checkAtWork(ledger: Ledger, { day, work, block, aircraft, types, subject }: Stop): void {
  const { aircraftIds } = work;
  if (aircraftIds === undefined) return;
  const isOfOutfit = aircraftIds.length === aircraft.length && aircraft.every(({ id }) => aircraftIds.includes(id));
  ledger.expect("atWork", isOfOutfit && distinctTypes({ types }).length === 1, subject, () => ({
    sentence: `block ${block.id} is worked by ${aircraftIds.join(", ")}, not by different aircraft of one type from the outfit ${day.crewDay.outfit.aircraftIds.join(", ")}`,
    actual: aircraftIds.join(", "),
    allowed: day.crewDay.outfit.aircraftIds.join(", "),
  }));
}

function checkHomeBase(ledger: Ledger, { crew, crewDay, aircraft, chargers, tender, subject }: Day): void {
  if (crew === undefined) return;
  const owned: [what: string, baseId: string, subject: Subject][] = [
    ...aircraft.map((one): [string, string, Subject] => [`aircraft ${one.id}`, one.baseId, { aircraftId: one.id }]),
    ...chargers.map((one): [string, string, Subject] => [`charger ${one.id}`, one.baseId, { chargerId: one.id }]),
  ];
  if (tender !== undefined) owned.push([`tender ${tender.id}`, tender.baseId, { tenderId: crewDay.outfit.tenderId }]);
  for (const [what, baseId, about] of owned) {
    ledger.expect("homeBase", baseId === crew.baseId, { ...subject, ...about }, () => ({
      sentence: `${what} belongs to base ${baseId}, crew ${crew.id} to ${crew.baseId}`,
      actual: baseId,
      allowed: crew.baseId,
    }));
  }
}

function checkTransportSlots(ledger: Ledger, { tender, types, subject }: Day): void {
  if (tender === undefined) return;
  const slots = types.reduce((sum, type) => sum + type.transportSlots, 0);
  ledger.expect("transportSlots", slots <= tender.transportSlots, { ...subject, tenderId: tender.id }, () => ({
    sentence: `the aircraft take ${slots} places on tender ${tender.id}, which has ${tender.transportSlots}`,
    actual: slots,
    allowed: tender.transportSlots,
  }));
}

/** How many battery sets of the type can be charged at once in the field. */
export function workingBays({ tender, chargers }: Day, chargeKw: number): number {
  const fits = (kw: number) => Math.floor(kw / chargeKw + rounding);
  const chargerBays = chargers.reduce((sum, charger) => sum + Math.min(charger.bays, fits(charger.kw)), 0);
  return Math.min(chargerBays, fits(tender?.generatorKw ?? 0));
}

/** Bays at which the type's sets are charged: those that the plan gives it, or all that work for it. */
export function baysOf(day: Day, { id, power }: AircraftType): number {
  if (power.source === "fuel") return 0;
  const entry = day.crewDay.outfit.batterySets.find((one) => one.aircraftTypeId === id);
  return entry?.bays ?? workingBays(day, power.chargeKw);
}

/** Bays that a plan shares out among types are there, and are fed all at once. */
function checkSharedBays(ledger: Ledger, day: Day): void {
  const { chargers, crewDay, subject, tender } = day;
  if (tender === undefined || crewDay.outfit.batterySets.every(({ bays }) => bays === undefined)) return;
  const sum = (list: readonly number[]) => list.reduce((all, one) => all + one, 0);
  const types = distinctTypes(day);
  const bays = sum(types.map((type) => baysOf(day, type)));
  const neededKw = sum(
    types.map((type) => (type.power.source === "battery" ? baysOf(day, type) * type.power.chargeKw : 0)),
  );
  const mostKw = Math.min(tender.generatorKw, sum(chargers.map(({ kw }) => kw)));
  const mostBays = sum(chargers.map((charger) => charger.bays));
  ledger.expect("bay", bays <= mostBays && neededKw <= mostKw + rounding, subject, () => ({
    sentence: `${bays} bays shared out among ${types.map(({ id }) => id).join(", ")} take ${shown(neededKw)} kW, the outfit has ${mostBays} bays and ${shown(mostKw)} kW`,
    actual: neededKw,
    allowed: mostKw,
  }));
}

/** Sets of the type that the outfit lists. */
export function setsOf({ crewDay }: Day, aircraftTypeId: string): number {
  return crewDay.outfit.batterySets
    .filter((entry) => entry.aircraftTypeId === aircraftTypeId)
    .reduce((sum, entry) => sum + entry.sets, 0);
}

function checkPower(ledger: Ledger, day: Day, type: AircraftType): void {
  if (type.power.source !== "battery") return;
  const needed = day.types.filter((one) => one === type).length;
  const sets = setsOf(day, type.id);
  ledger.expect("batterySets", sets >= needed, day.subject, () => ({
    sentence: `${sets} battery sets for ${needed} aircraft of type ${type.id}`,
    actual: sets,
    allowed: needed,
  }));
  if (day.tender === undefined) return;
  const bays = workingBays(day, type.power.chargeKw);
  ledger.expect("bay", bays >= 1, day.subject, () => ({
    sentence: `no charger bay can charge a set of type ${type.id} in the field`,
    actual: bays,
    allowed: 1,
  }));
}

function checkOutOfService(ledger: Ledger, { aircraft, crewDay, subject }: Day): void {
  const { date } = crewDay;
  for (const one of aircraft) {
    const outage = one.outOfService.find(({ from, to }) => from <= date && date <= to);
    ledger.expect("outOfService", outage === undefined, { ...subject, aircraftId: one.id }, () => ({
      sentence: `aircraft ${one.id} is out of service from ${outage?.from} to ${outage?.to}`,
      actual: date,
      allowed: `not ${outage?.from} to ${outage?.to}`,
    }));
  }
}

function checkQualified(ledger: Ledger, { day, mix, types, subject }: Stop): void {
  if (day.crew === undefined) return;
  const licenceClasses = mix.products.map((product) => product.licenceClass);
  ledger.expect("qualified", canShareOut(day.crew, types, licenceClasses), subject, () => ({
    sentence: `crew ${day.crewDay.crewId} has too few people rated for ${distinctTypes({ types })
      .map((type) => type.id)
      .join(", ")} with licence ${licenceClasses.join(", ")}`,
    actual: day.crew!.people.map((person) => person.id).join(", "),
    allowed: licenceClasses.join(", "),
  }));
}

/** Whether each aircraft gets a person: a matching of aircraft to seats, a person having `aircraftAtOnce` of them. */
function canShareOut(crew: Crew, types: readonly AircraftType[], licenceClasses: readonly string[]): boolean {
  const mayFly = (person: Person, type: AircraftType) =>
    person.ratings.includes(type.id) && licenceClasses.every((licence) => person.licenceClasses.includes(licence));
  const seats = crew.people.flatMap((person) => Array.from({ length: person.aircraftAtOnce }, () => person));
  const aircraftInSeat = new Map<number, number>();

  const seatFound = (aircraft: number, tried: Set<number>): boolean =>
    seats.some((person, seat) => {
      if (tried.has(seat) || !mayFly(person, types[aircraft]!)) return false;
      tried.add(seat);
      const sitting = aircraftInSeat.get(seat);
      if (sitting !== undefined && !seatFound(sitting, tried)) return false;
      aircraftInSeat.set(seat, aircraft);
      return true;
    });
  return types.every((_, aircraft) => seatFound(aircraft, new Set()));
}

function checkOneCrewAtATime(facts: Facts, ledger: Ledger): void {
  const users = new Map<string, { about: Subject; days: Day[] }>();
  const use = (key: string, about: Subject, day: Day) => {
    const entry = users.get(key) ?? { about, days: [] };
    users.set(key, entry);
    entry.days.push(day);
  };
  for (const day of facts.days) {
    const { aircraftIds, chargerIds, tenderId } = day.crewDay.outfit;
    for (const aircraftId of aircraftIds) use(`aircraft ${aircraftId}`, { aircraftId }, day);
    for (const chargerId of chargerIds) use(`charger ${chargerId}`, { chargerId }, day);
    use(`tender ${tenderId}`, { tenderId }, day);
  }
  for (const [what, { about, days: using }] of users) {
    for (const [index, a] of using.entries()) {
      for (const b of using.slice(index + 1)) {
        const clash = a === b || overlap(a.startMin, keepsUntilMin(facts, a), b.startMin, keepsUntilMin(facts, b));
        ledger.expect("oneCrewAtATime", !clash, { ...b.subject, ...about }, () => ({
          sentence:
            a === b
              ? `${what} is listed twice in one outfit`
              : `${what} is with crew ${a.crewDay.crewId} and crew ${b.crewDay.crewId} at the same time`,
          actual: `${a.crewDay.crewId} ${a.crewDay.date}`,
          allowed: "one crew at a time",
        }));
      }
    }
  }
}
