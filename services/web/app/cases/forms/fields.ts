import { changeWordsOfForms } from "../../strings/caseChanges.ts";
import type { Quantity } from "./quantity.ts";
import type { ThingKind } from "./things.ts";

/** One field of a form: where in the change it stands, and what may be put in. */
export type FieldForm = {
  /** Steps parted by points, as "set.power.enduranceMin". */
  readonly path: string;
  readonly label: string;
  /** May stay empty; the words say what holds then. */
  readonly whenEmpty?: string;
} & (
  | { readonly as: "thing" | "things"; readonly of: ThingKind }
  | { readonly as: "number"; readonly in: Quantity }
  | { readonly as: "word"; readonly of: readonly { readonly id: string | boolean; readonly words: string }[] }
  | { readonly as: "text" | "date" | "clock" | "dateTime" }
  | { readonly as: "orderLike" | "weather" | "setsToMove" }
);

const { fields: words, members, asNow, asThat, priorities, yes, no } = changeWordsOfForms;

export const thing = (path: string, label: string, of: ThingKind): FieldForm => ({ path, label, as: "thing", of });
export const things = (path: string, label: string, of: ThingKind): FieldForm => ({ path, label, as: "things", of });
export const number = (path: string, label: string, quantity: Quantity): FieldForm => ({
  path,
  label,
  as: "number",
  in: quantity,
});
export const maybe = (field: FieldForm, whenEmpty: string): FieldForm => ({ ...field, whenEmpty });

const yesNo = [
  { id: true, words: yes },
  { id: false, words: no },
];
export const priorityChoices = Object.entries(priorities).map(([id, label]) => ({ id, words: label }));

/** Members of what is there already: what stays empty stays as it is. */
function ofSet(whenEmpty: string, fields: readonly FieldForm[]): FieldForm[] {
  return fields.map((field) => maybe({ ...field, path: `set.${field.path}` }, whenEmpty));
}

const tenderFields = [
  number("waterL", members.waterL, "volumeL"),
  number("mixLPerMin", members.mixFlow, "flowLPerMin"),
  number("pumpLPerMin", members.pumpFlow, "flowLPerMin"),
  number("loadingPoints", members.loadingPoints, "count"),
  number("generatorKw", members.generatorKw, "powerKw"),
  number("transportSlots", members.slots, "count"),
];

const crewFields: readonly FieldForm[] = [
  number("maxAircraft", members.maxAircraft, "count"),
  number("dutyMaxHoursPerDay", members.dutyDay, "timeHours"),
  number("dutyMaxHoursPerWeek", members.dutyWeek, "timeHours"),
  number("restMinHours", members.rest, "timeHours"),
  number("standardHoursPerDay", members.standard, "timeHours"),
  number("costCentsPerHour", members.wage, "moneyCentsPerHour"),
  { path: "nightWork", label: members.nightWork, as: "word", of: yesNo },
  { path: "mixedOutfit", label: members.mixedOutfit, as: "word", of: yesNo },
  number("nightAwayCents", members.nightAway, "moneyCents"),
];

const typeFields: readonly FieldForm[] = [
  { path: "name", label: words.name, as: "text" },
  number("payloadKg", members.payload, "massKg"),
  number("liquid.tankL", members.tankL, "volumeL"),
  number("liquid.swathM", members.liquidSwath, "lengthM"),
  number("liquid.speedMaxMps", members.liquidSpeed, "speedMps"),
  number("liquid.flowMaxLPerMin", members.liquidFlow, "flowLPerMin"),
  number("granular.hopperKg", members.hopperKg, "massKg"),
  number("granular.swathM", members.granularSwath, "lengthM"),
  number("ferrySpeedMps", members.ferry, "speedMps"),
  number("turnS", members.turn, "timeS"),
  number("loadS", members.loadS, "timeS"),
  number("power.enduranceMin", members.endurance, "timeMin"),
  number("power.reserveFrac", members.reserve, "shareFrac"),
  number("power.swapS", members.swap, "timeS"),
  number("power.chargeMin", members.charge, "timeMin"),
  number("power.chargeKw", members.chargeKw, "powerKw"),
  number("windMaxKph", members.windMax, "windKph"),
  number("gustMaxKph", members.gustMax, "windKph"),
  number("setupMin", members.setup, "timeMin"),
  number("packupMin", members.packup, "timeMin"),
  number("transportSlots", members.slotsTaken, "count"),
  number("runningCentsPerHour", members.running, "moneyCentsPerHour"),
  number("ownershipCentsPerYear", members.owning, "moneyCentsPerYear"),
];

/** What an order says beside its field and its mix. */
export const orderFields: readonly FieldForm[] = [
  { path: "earliest", label: words.earliest, as: "dateTime" },
  { path: "latest", label: words.latest, as: "dateTime" },
  { path: "preferredDate", label: words.preferred, as: "date" },
  { path: "priority", label: words.priority, as: "word", of: priorityChoices },
  number("priceCentsPerHa", words.price, "moneyCentsPerHa"),
];

export const fieldsOfAnotherTender = ofSet(asThat, tenderFields);
export const fieldsOfAnotherCrew = ofSet(asThat, crewFields);
export const fieldsOfCrew = ofSet(asNow, crewFields);
export const fieldsOfType = ofSet(asNow, typeFields);
export const fieldsOfAnotherType = ofSet(asThat, typeFields);
export const fieldsOfOrder = ofSet(asNow, orderFields);
