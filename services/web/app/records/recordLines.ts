import type { ApplicationRecord } from "../../../../shared/contracts/applicationRecords.ts";
import type { Measured, RecordedProduct } from "../../../../shared/done/applicationRecord.ts";
import type { RecordRule } from "../../../../shared/model/quantities.ts";
import { instantWords } from "../kit/instants.ts";
import { recordFieldWords as fields, recordWords as words } from "../strings/records.ts";
import type { UnitWords } from "../units/unitWords.ts";

export interface RecordLine {
  readonly key: string;
  readonly label: string;
  /** Null: it is not there. */
  readonly value: string | null;
  readonly comesFrom: string;
  readonly askedBy: readonly RecordRule[];
  readonly isMissing: boolean;
}

/** What stands in a record, a line each, in the order in which an inspector asks. */
export function recordLines(told: ApplicationRecord, units: UnitWords): readonly RecordLine[] {
  const { missing, origins, record } = told;
  const { products, timeZone } = record;
  const each = (wordsOf: (product: RecordedProduct) => string | null) => joined(products.map(wordsOf));
  const values: readonly (readonly [keyof typeof fields & string, string | null])[] = [
    ["grower", record.grower || null],
    ["growerAddress", record.growerAddress],
    ["typeOfUse", record.typeOfUse],
    ["geometry", fields.mapOf(units.areaHa(record.blockHa))],
    ["landId", record.landId],
    ["treatedHa", units.areaHa(record.treatedHa)],
    ["crop", record.crop || null],
    ["eppoCode", record.eppoCode],
    ["growthStage", record.growthStage === null ? null : String(record.growthStage)],
    ["startedAt", record.startedAt && instantWords(record.startedAt, timeZone)],
    ["endedAt", record.endedAt && instantWords(record.endedAt, timeZone)],
    ["products.name", each(({ name }) => name)],
    ["products.registrationNumber", each(({ registrationNumber }) => registrationNumber)],
    ["products.amount", each((product) => amountWords(product, units))],
    ["products.ratePerHa", each((product) => rateWords(product, units))],
    ["carrier", record.carrierLPerHa === null ? null : units.rateLPerHa(record.carrierLPerHa)],
    ["applicators", joined(record.applicators.map(({ name }) => name))],
    ["applicators.certificationNumber", joined(record.applicators.map((one) => one.certificationNumber))],
    ["helpers", joined(record.helpers)],
    ["aircraft", joined(record.aircraft.map(({ id, type }) => `${id} (${type})`))],
    ["spotApplication", record.spotApplication],
    ["notes", record.notes || null],
  ];
  return values.flatMap(([key, value]) => {
    const origin = origins.find(({ field }) => field === key);
    const isMissing = missing.some(({ field }) => field === key);
    // What nobody asks for and is not there is not worth a line.
    if (value === null && !isMissing && origin === undefined) return [];
    const askedBy = (Object.keys(origin?.asked ?? {}) as RecordRule[]).filter((rule) =>
      record.recordRules.includes(rule),
    );
    return [
      {
        key,
        label: fields[key] as string,
        value,
        comesFrom: origin && value !== null ? words.origins[origin.from] : "",
        askedBy,
        isMissing,
      },
    ];
  });
}

/** Null where none is there; one that is not among others shows as a question mark. */
function joined(values: readonly (string | null)[]): string | null {
  return values.some((value) => value !== null) ? values.map((value) => value ?? "?").join("; ") : null;
}

export const amountWords = ({ amount, unit }: RecordedProduct, units: UnitWords): string =>
  unit === "L" ? units.volumeL(amount) : units.massKg(amount);

function rateWords({ ratePerHa, unit }: RecordedProduct, units: UnitWords): string | null {
  if (ratePerHa === null) return null;
  return unit === "L" ? units.rateLPerHa(ratePerHa) : units.rateKgPerHa(ratePerHa);
}

type Limit = Measured["limits"][number];

/** What was measured, in words: wind, gusts and from where, temperature, humidity. */
export function airWords({ air }: Measured, units: UnitWords): string {
  const parts = [
    `wind ${units.windKph(air.windKph)}`,
    air.gustKph === undefined ? null : `gusts ${units.windKph(air.gustKph)}`,
    air.windFromDeg === undefined ? null : `from ${Math.round(air.windFromDeg)}°`,
    air.temperatureC === undefined ? null : units.temperatureC(air.temperatureC),
    air.humidityPct === undefined ? null : `humidity ${Math.round(air.humidityPct)} %`,
    air.where || null,
  ];
  return parts.filter((part) => part !== null).join(", ");
}

export function limitWords({ allowed, bound, holds, measure, setBy }: Limit, units: UnitWords): string {
  const amount = {
    wind: units.windKph,
    gust: units.windKph,
    "Delta T": units.deltaC,
    temperature: units.temperatureC,
    humidity: (humidity: number) => `${Math.round(humidity)} %`,
  }[measure](allowed);
  return `${measure} ${bound === "most" ? words.atMost : words.atLeast} ${amount} (${setBy}): ${holds ? words.holds : words.broken}`;
}
