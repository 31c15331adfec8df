import { shortDateWords } from "../model/dateWords.ts";
import type { Operation } from "../model/operation.ts";
import { counted, readable } from "../plan/words.ts";
import type { Change, ChangeOf } from "./change.ts";
import { memberChangeWords } from "./memberChangeWords.ts";

/** A change in a few words for people, by the names of the operation that it is made to: "1 more Crane 50 at West yard with 2 battery sets". */
export function changeWords(operation: Operation, change: Change): string {
  return (words[change.kind] as (operation: Operation, change: Change) => string)(operation, change);
}

/** Several changes in one line. */
export function changesWords(operation: Operation, changes: readonly Change[]): string {
  return changes.length === 0 ? "as it is" : changes.map((change) => changeWords(operation, change)).join("; ");
}

type Words = { readonly [Kind in Change["kind"]]: (operation: Operation, change: ChangeOf<Kind>) => string };

const words: Words = {
  addAircraft: (of, { typeId, baseId, count, batterySets }) =>
    `${count} more ${typeName(of, typeId)} at ${baseName(of, baseId)}${batterySets > 0 ? ` with ${sets(batterySets)}` : ""}`,
  takeAircraft: (_, { aircraftId }) => `without ${aircraftId}`,
  batterySets: (of, { baseId, typeId, more }) =>
    `${sets(Math.abs(more))} ${more < 0 ? "fewer" : "more"} for ${typeName(of, typeId)} at ${baseName(of, baseId)}`,
  addCharger: (of, { baseId, bays, kw, count }) =>
    `${counted(count, "charger", "chargers")} more with ${counted(bays, "bay", "bays")}, ${readable(kw)} kW, at ${baseName(of, baseId)}`,
  takeCharger: (_, { chargerId }) => `without ${chargerId}`,
  addTender: (of, { like, baseId, count }) =>
    `${counted(count, "tender", "tenders")} more like ${nameOf(of.fleet.tenders, like)}${baseId === undefined ? "" : ` at ${baseName(of, baseId)}`}`,
  takeTender: (of, { tenderId }) => `without ${nameOf(of.fleet.tenders, tenderId)}`,
  moveThings: (of, { toBaseId, aircraftIds, chargerIds, tenderIds, batterySets }) => {
    const things = [
      ...aircraftIds,
      ...chargerIds,
      ...tenderIds.map((id) => nameOf(of.fleet.tenders, id)),
      ...batterySets.map(({ typeId, sets: count }) => `${sets(count)} for ${typeName(of, typeId)}`),
    ];
    return `${things.join(", ")} to ${baseName(of, toBaseId)}`;
  },
  addCrew: (of, { like, baseId, count }) =>
    `${counted(count, "crew", "crews")} more like ${crewName(of, like)}${baseId === undefined ? "" : ` at ${baseName(of, baseId)}`}`,
  takeCrew: (of, { crewId }) => `without ${crewName(of, crewId)}`,
  changeCrew: (of, { crewId, set }) => `${crewName(of, crewId)}: ${memberChangeWords(set, of.settings.currency)}`,
  setShift: (of, { crewId, date, from, to }) => `${crewName(of, crewId)} on ${dayIn(of, date)} from ${from} to ${to}`,
  longerShift: (of, { crewId, dates, earlierMin, laterMin }) => {
    const ends = [
      ...(earlierMin === 0 ? [] : [`${Math.abs(earlierMin)} min ${earlierMin > 0 ? "earlier" : "later"} out`]),
      ...(laterMin === 0 ? [] : [`${Math.abs(laterMin)} min ${laterMin > 0 ? "later" : "earlier"} back`]),
    ];
    return `${crewName(of, crewId)} ${ends.join(" and ")} on ${dates === undefined ? "all its days" : dates.map((date) => dayIn(of, date)).join(", ")}`;
  },
  dayOff: (of, { crewId, date }) => `${crewName(of, crewId)} off on ${dayIn(of, date)}`,
  train: (of, { crewId, personId, ratings, licenceClasses, aircraftAtOnce }) => {
    const crew = of.fleet.crews.find(({ id }) => id === crewId);
    const learnt = [
      ...ratings.map((typeId) => `flies ${typeName(of, typeId)}`),
      ...licenceClasses.map((licence) => `holds licence ${licence}`),
      ...(aircraftAtOnce === undefined ? [] : [`flies ${aircraftAtOnce} aircraft at once`]),
    ];
    return `${nameOf(crew?.people ?? [], personId)} of ${crewName(of, crewId)} ${learnt.join(", ")}`;
  },
  changeType: (of, { typeId, set }) => `${typeName(of, typeId)}: ${memberChangeWords(set, of.settings.currency)}`,
  addType: (of, { like, id, set }) =>
    `a type ${id} like ${typeName(of, like)}, but ${memberChangeWords(set, of.settings.currency)}`,
  addBase: (_, { base }) => `a base, ${base.name}`,
  addWaterPoint: (_, { waterPoint }) => `a water point, ${waterPoint.name}`,
  addOrders: (_, { orders }) => `${counted(orders.length, "order", "orders")} more`,
  takeOrders: (_, { orderIds }) => `without ${orderIds.join(", ")}`,
  changeOrder: (of, { orderId, set }) => `${orderId}: ${memberChangeWords(set, of.settings.currency)}`,
  harvestDate: (of, { fieldId, date }) => `harvest of ${fieldName(of, fieldId)} on ${dayIn(of, date)}`,
  addPad: (of, { fieldId, pad }) => `a pad ${pad.id} at ${fieldName(of, fieldId)}`,
  changeSettings: (of, { costs, limits, planning }) =>
    memberChangeWords({ ...costs, ...limits, ...planning }, of.settings.currency),
  changeWeather: (_, { windFactor, rainFactor, warmerC }) =>
    [
      ...(windFactor === 1 ? [] : [`wind times ${readable(windFactor)}`]),
      ...(rainFactor === 1 ? [] : [`rain times ${readable(rainFactor)}`]),
      ...(warmerC === 0 ? [] : [`${readable(Math.abs(warmerC))} °C ${warmerC > 0 ? "warmer" : "colder"}`]),
    ].join(", ") || "weather as it is",
  replaceWeather: () => "other weather",
};

interface Called {
  readonly id: string;
  readonly name: string;
}

function nameOf(things: readonly Called[], id: string): string {
  return things.find((thing) => thing.id === id)?.name ?? id;
}

const typeName = (of: Operation, id: string) => nameOf(of.fleet.aircraftTypes, id);
const baseName = (of: Operation, id: string) => nameOf(of.settings.bases, id);
const crewName = (of: Operation, id: string) => nameOf(of.fleet.crews, id);
const fieldName = (of: Operation, id: string) =>
  nameOf(
    of.fields.features.map(({ properties }) => properties),
    id,
  );
const dayIn = (of: Operation, date: string) => shortDateWords(date, of.settings.firstDay);
const sets = (count: number) => counted(count, "battery set", "battery sets");
