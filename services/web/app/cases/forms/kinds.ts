import type { Change } from "../../../../../shared/cases/change.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { changeWordsOfForms } from "../../strings/caseChanges.ts";
import type { Draft } from "./draft.ts";
import {
  type FieldForm,
  fieldsOfAnotherCrew,
  fieldsOfAnotherTender,
  fieldsOfAnotherType,
  fieldsOfCrew,
  fieldsOfOrder,
  fieldsOfType,
  maybe,
  number,
  orderFields,
  thing,
  things,
} from "./fields.ts";
import { choicesOf, type ThingKind } from "./things.ts";

export type ChangeKind = Change["kind"];
export type KindGroup = keyof typeof changeWordsOfForms.groups;

interface KindForm {
  readonly group: KindGroup;
  readonly fields: readonly FieldForm[];
  /** What stands in the form to begin with, beside the kind and the first of each thing to choose. */
  readonly begins?: Draft;
}

const { fields: words, members, asNow, asThat, kinds: labels } = changeWordsOfForms;
const count = number("count", words.howMany, "count");
const base = thing("baseId", words.base, "bases");
const type = thing("typeId", words.type, "aircraftTypes");
const crew = thing("crewId", words.crew, "crews");
const text = (path: string, label: string): FieldForm => ({ path, label, as: "text" });
const place = (path: string) => [
  number(`${path}.latDeg`, words.lat, "angleDeg"),
  number(`${path}.lonDeg`, words.lon, "angleDeg"),
];
const setting = (field: FieldForm) => maybe(field, asNow);

export const kindForms: Readonly<Record<ChangeKind, KindForm>> = {
  addAircraft: {
    group: "aircraft",
    fields: [type, base, count, number("batterySets", words.withSets, "count")],
    begins: { count: 1, batterySets: 0 },
  },
  takeAircraft: { group: "aircraft", fields: [thing("aircraftId", words.aircraft, "aircraft")] },
  batterySets: {
    group: "aircraft",
    fields: [thing("typeId", words.type, "batteryTypes"), base, number("more", words.moreSets, "count")],
    begins: { more: 1 },
  },
  changeType: { group: "aircraft", fields: [type, ...fieldsOfType] },
  addType: {
    group: "aircraft",
    fields: [thing("like", words.likeType, "aircraftTypes"), text("id", words.id), ...fieldsOfAnotherType],
  },
  moveThings: {
    group: "aircraft",
    fields: [
      thing("toBaseId", words.toBase, "bases"),
      things("aircraftIds", words.aircraft, "aircraft"),
      things("chargerIds", words.chargers, "chargers"),
      things("tenderIds", words.tenders, "tenders"),
      { path: "batterySets", label: words.sets, as: "setsToMove" },
    ],
    begins: { aircraftIds: [], chargerIds: [], tenderIds: [], batterySets: [] },
  },
  addCharger: {
    group: "ground",
    fields: [base, number("bays", words.bays, "count"), number("kw", words.chargerKw, "powerKw"), count],
    begins: { bays: 2, kw: 18, count: 1 },
  },
  takeCharger: { group: "ground", fields: [thing("chargerId", words.charger, "chargers")] },
  addTender: {
    group: "ground",
    fields: [thing("like", words.likeTender, "tenders"), maybe(base, asThat), count, ...fieldsOfAnotherTender],
    begins: { count: 1 },
  },
  takeTender: { group: "ground", fields: [thing("tenderId", words.tender, "tenders")] },
  addCrew: {
    group: "crews",
    fields: [thing("like", words.likeCrew, "crews"), maybe(base, asThat), count, ...fieldsOfAnotherCrew],
    begins: { count: 1 },
  },
  takeCrew: { group: "crews", fields: [crew] },
  changeCrew: { group: "crews", fields: [crew, ...fieldsOfCrew] },
  longerShift: {
    group: "crews",
    fields: [
      crew,
      number("earlierMin", words.earlierMin, "timeMin"),
      number("laterMin", words.laterMin, "timeMin"),
      maybe(things("dates", words.days, "days"), ""),
    ],
    begins: { earlierMin: 60, laterMin: 0 },
  },
  setShift: {
    group: "crews",
    fields: [
      crew,
      thing("date", words.day, "days"),
      { path: "from", label: words.from, as: "clock" },
      { path: "to", label: words.to, as: "clock" },
    ],
    begins: { from: "05:00", to: "14:00" },
  },
  dayOff: { group: "crews", fields: [crew, thing("date", words.day, "days")] },
  train: {
    group: "crews",
    fields: [
      crew,
      thing("personId", words.person, "people"),
      things("ratings", words.ratings, "aircraftTypes"),
      things("licenceClasses", words.licences, "licences"),
      maybe(number("aircraftAtOnce", words.aircraftAtOnce, "count"), asNow),
    ],
    begins: { ratings: [], licenceClasses: [] },
  },
  addBase: {
    group: "places",
    fields: [
      text("base.id", words.id),
      text("base.name", words.name),
      ...place("base"),
      number("base.mainsKw", words.mainsKw, "powerKw"),
      number("base.fillLPerMin", words.fillFlow, "flowLPerMin"),
    ],
    begins: { base: { mainsKw: 40, fillLPerMin: 200 } },
  },
  addWaterPoint: {
    group: "places",
    fields: [
      text("waterPoint.id", words.id),
      text("waterPoint.name", words.name),
      ...place("waterPoint"),
      number("waterPoint.fillLPerMin", words.fillFlow, "flowLPerMin"),
    ],
    begins: { waterPoint: { fillLPerMin: 200 } },
  },
  addPad: {
    group: "places",
    fields: [thing("fieldId", words.field, "fields"), text("pad.id", words.id), ...place("pad")],
  },
  addOrders: {
    group: "orders",
    fields: [
      { path: "orders.0", label: words.likeOrder, as: "orderLike" },
      text("orders.0.id", words.id),
      thing("orders.0.fieldId", words.field, "fields"),
      ...orderFields.map((field) => ({ ...field, path: `orders.0.${field.path}` })),
    ],
  },
  takeOrders: { group: "orders", fields: [things("orderIds", words.orders, "orders")], begins: { orderIds: [] } },
  changeOrder: { group: "orders", fields: [thing("orderId", words.order, "orders"), ...fieldsOfOrder] },
  harvestDate: {
    group: "orders",
    fields: [thing("fieldId", words.field, "fields"), { path: "date", label: words.harvest, as: "date" }],
  },
  changeSettings: {
    group: "rules",
    fields: [
      number("costs.driveCentsPerKm", members.drive, "moneyCentsPerKm"),
      number("costs.overtimeFactor", members.overtime, "factor"),
      number("limits.windMaxKph", members.windMax, "windKph"),
      number("limits.gustMaxKph", members.gustMax, "windKph"),
      number("limits.rainProbabilityPct", members.rainPct, "sharePct"),
      number("planning.lateCentsPerHaDay", members.late, "moneyCentsPerHa"),
      number("planning.mandatoryFactor", members.mandatory, "factor"),
      number("planning.blockMaxMin", members.blockMax, "timeMin"),
      number("planning.pauseMaxMin", members.pauseMax, "timeMin"),
    ].map(setting),
  },
  changeWeather: {
    group: "rules",
    fields: [
      number("windFactor", words.windFactor, "factor"),
      number("rainFactor", words.rainFactor, "factor"),
      number("warmerC", words.warmer, "deltaC"),
    ],
    begins: { windFactor: 1.2, rainFactor: 1, warmerC: 0 },
  },
  replaceWeather: { group: "rules", fields: [{ path: "steps", label: words.weatherFile, as: "weather" }] },
};

export const changeKinds = Object.keys(kindForms) as ChangeKind[];
export const kindGroups = Object.keys(changeWordsOfForms.groups) as KindGroup[];
export const kindLabel = (kind: ChangeKind): string => labels[kind];

/** A change of the kind as it is put before somebody: with the first of each thing chosen. */
export function beginChange(kind: ChangeKind, operation: Operation): Draft {
  const { begins, fields } = kindForms[kind];
  let change: Draft = { kind, ...begins };
  for (const { path, whenEmpty, ...field } of fields) {
    if (field.as !== "thing" || whenEmpty !== undefined || path.includes(".")) continue;
    change = { ...change, [path]: firstOf(field.of, operation, change) };
  }
  return change;
}

const firstOf = (kind: ThingKind, operation: Operation, change: Draft) =>
  choicesOf(kind, operation, change.crewId)[0]?.id;

/** Of the change those parts that another kind of it has, too: who turns from one kind to another need not choose the same again. */
export function turnedInto(kind: ChangeKind, change: Draft, operation: Operation): Draft {
  const begun = beginChange(kind, operation);
  const kept = Object.entries(change).filter(
    ([name, value]) =>
      name !== "kind" && ["baseId", "typeId", "crewId"].includes(name) && name in begun && value !== "",
  );
  return { ...begun, ...Object.fromEntries(kept) };
}
