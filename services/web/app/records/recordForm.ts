import type { ApplicationRecord } from "../../../../shared/contracts/applicationRecords.ts";
import type { ByHand } from "../../../../shared/done/applicationRecord.ts";
import type { UnitSystem } from "../../../../shared/units/units.ts";
import { acresFromHa, gallonsFromL, lbFromKg } from "../../../../shared/units/units.ts";
import { instantOfLocal, localOfInstant } from "../kit/instants.ts";
import { recordFieldWords as fields, recordWords as words } from "../strings/records.ts";

/** What stands in the form: texts as people type them, quantities in their units, times on the operation's clocks. */
export type RecordForm = Readonly<Record<string, string>>;

/** How one text of the form is told to the server, and what it was. */
export interface FormField {
  readonly key: string;
  readonly label: string;
  readonly kind: "line" | "lines" | "number" | "time";
  /** Of a number. */
  readonly unit?: string;
  readonly hint?: string;
  /** As it stands. */
  readonly text: string;
}

const applicatorPlaces = 2;

/** What a rule calls it, where that is not the form's own word. */
const ruleWords: Readonly<Record<string, string>> = {
  applicator: "applicators",
  certification: "applicators",
  amount: "products.amount",
  name: "products.name",
  registration: "products.registrationNumber",
};

/** The fields of the form with what stands in the record now; what rules ask for and is not there comes first. */
export function formFields(told: ApplicationRecord, system: UnitSystem): readonly FormField[] {
  const isMissing = ({ key }: FormField) => {
    const [word = ""] = key.split(" ");
    return told.missing.some(({ field }) => field === (ruleWords[word] ?? word));
  };
  const fields = allFields(told, system);
  return [...fields.filter(isMissing), ...fields.filter((field) => !isMissing(field))];
}

function allFields({ record }: ApplicationRecord, system: UnitSystem): readonly FormField[] {
  const { timeZone } = record;
  const line = (key: keyof typeof fields & string, text: string | null, hint?: string): FormField => ({
    key,
    label: fields[key] as string,
    kind: "line",
    text: text ?? "",
    ...(hint === undefined ? {} : { hint }),
  });
  const time = (key: "startedAt" | "endedAt", iso: string | null): FormField => ({
    key,
    label: fields[key],
    kind: "time",
    text: iso === null ? "" : localOfInstant(iso, timeZone),
  });
  const area: FormField = {
    key: "treatedHa",
    label: fields.treatedHa,
    kind: "number",
    unit: system === "us" ? "ac" : "ha",
    text: numberText(record.treatedHa * perUnit(system, "ha")),
  };
  const products = record.products.flatMap(({ amount, name, productId, registrationNumber, unit }): FormField[] => [
    {
      key: `amount ${productId}`,
      label: fields.amount(name),
      kind: "number",
      unit: { metric: unit, us: unit === "L" ? "gal" : "lb" }[system],
      text: numberText(amount * perUnit(system, unit)),
    },
    { key: `name ${productId}`, label: fields.name(name), kind: "line", text: name },
    {
      key: `registration ${productId}`,
      label: fields.registration(name),
      kind: "line",
      text: registrationNumber ?? "",
    },
  ]);
  const places = Math.max(applicatorPlaces, record.applicators.length);
  const applicators = Array.from({ length: places }, (_, at): FormField[] => [
    {
      key: `applicator ${at}`,
      label: fields.applicator(at + 1),
      kind: "line",
      text: record.applicators[at]?.name ?? "",
    },
    {
      key: `certification ${at}`,
      label: fields.certification(at + 1),
      kind: "line",
      text: record.applicators[at]?.certificationNumber ?? "",
    },
  ]).flat();
  return [
    line("grower", record.grower),
    line("growerAddress", record.growerAddress),
    line("landId", record.landId),
    area,
    line("crop", record.crop),
    line("eppoCode", record.eppoCode),
    line("growthStage", record.growthStage === null ? null : String(record.growthStage)),
    time("startedAt", record.startedAt),
    time("endedAt", record.endedAt),
    ...products,
    ...applicators,
    { key: "helpers", label: fields.helpers, kind: "lines", hint: fields.helpersHint, text: record.helpers.join("\n") },
    line("spotApplication", record.spotApplication, fields.spotHint),
    { key: "notes", label: fields.notes, kind: "lines", text: record.notes },
  ];
}

const perUnit = (system: UnitSystem, unit: "ha" | "L" | "kg"): number =>
  system === "metric" ? 1 : { ha: acresFromHa(1), L: gallonsFromL(1), kg: lbFromKg(1) }[unit];
const numberText = (value: number) => String(Number(value.toPrecision(6)));

export type FormOutcome =
  | { readonly ok: true; readonly byHand: ByHand; readonly isChanged: boolean }
  | { readonly ok: false; readonly faults: readonly string[] };

/**
 * All that persons have put over what was reported, after this form: what was not touched stays as it was, what was emptied falls back to what was reported.
 */
export function byHandOf(told: ApplicationRecord, given: RecordForm, system: UnitSystem): FormOutcome {
  const { byHand: before, record } = told;
  const faults: string[] = [];
  const touched = formFields(told, system).filter(({ key, text }) => (given[key] ?? text).trim() !== text.trim());
  const plain: Record<string, unknown> = { ...before };
  const products = new Map((before.products ?? []).map((product) => [product.productId as string, { ...product }]));
  let touchesApplicators = false;
  for (const field of touched) {
    const text = given[field.key]!.trim();
    const [word, id] = field.key.split(" ") as [string, string | undefined];
    if (word === "applicator" || word === "certification") {
      touchesApplicators = true;
    } else if (id !== undefined) {
      const product = record.products.find(({ productId }) => productId === id)!;
      const kept = products.get(id) ?? { productId: product.productId };
      const name = { amount: "amount", name: "name", registration: "registrationNumber" }[word]!;
      const value =
        word === "amount" ? numberOf(field, text, perUnit(system, product.unit), faults) : text || undefined;
      products.set(id, without({ ...kept, [name]: value }) as typeof kept);
    } else plain[word] = toldOf(field, text, record.timeZone, system, faults);
  }
  if (touchesApplicators) plain.applicators = applicatorsOf(told, given, system);
  const left = [...products.values()].filter((product) => Object.keys(product).length > 1);
  plain.products = left.length > 0 ? left : undefined;
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, byHand: without(plain) as ByHand, isChanged: touched.length > 0 };
}

function toldOf(field: FormField, text: string, timeZone: string, system: UnitSystem, faults: string[]): unknown {
  if (text === "") return undefined;
  switch (field.key) {
    case "treatedHa":
      return numberOf(field, text, perUnit(system, "ha"), faults);
    case "startedAt":
    case "endedAt":
      if (Number.isNaN(Date.parse(`${text}Z`))) {
        faults.push(words.notTime(field.label));
        return undefined;
      }
      return instantOfLocal(text, timeZone);
    case "growthStage":
      if (!/^\d{1,2}$/.test(text)) faults.push(words.notCode(field.label, "a whole number from 0 to 99"));
      return Number(text);
    case "eppoCode":
      if (!/^[0-9A-Z]{4,7}$/.test(text))
        faults.push(words.notCode(field.label, "four to seven capital letters or digits, as TRZAW"));
      return text;
    case "helpers":
      return text
        .split("\n")
        .map((line) => line.trim())
        .filter(Boolean);
    default:
      return text;
  }
}

/** A comma for the decimal point is understood, as people write it in many countries. */
function numberOf({ label }: FormField, text: string, perUnitOfOurs: number, faults: string[]): number | undefined {
  if (text === "") return undefined;
  const value = Number(text.replace(",", "."));
  if (Number.isFinite(value) && value >= 0) return value / perUnitOfOurs;
  faults.push(words.notNumber(label));
  return undefined;
}

function applicatorsOf(told: ApplicationRecord, given: RecordForm, system: UnitSystem) {
  const texts = new Map(formFields(told, system).map(({ key, text }) => [key, (given[key] ?? text).trim()]));
  const places = [...texts.keys()].filter((key) => key.startsWith("applicator ")).length;
  const named = Array.from({ length: places }, (_, at) => ({
    name: texts.get(`applicator ${at}`)!,
    certificationNumber: texts.get(`certification ${at}`) || undefined,
  }))
    .filter(({ name }) => name !== "")
    .map(without);
  return named.length > 0 ? named : undefined;
}

function without<Thing extends object>(thing: Thing): Thing {
  return Object.fromEntries(Object.entries(thing).filter(([, value]) => value !== undefined)) as Thing;
}
