import {
  acresFromHa,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  kphFromMps,
  lbFromKg,
  milesFromKm,
  mphFromKph,
  type UnitSystem,
} from "../units/units.ts";
import type { SiteLimit } from "./siteLimits.ts";
import { hectares, kilometres, readable } from "./words.ts";

type Unit = "L" | "kg";

/** Quantities in words, in the units of whoever reads. What comes in is in the unit of its name, as everywhere inside. */
export interface Measures {
  readonly system: UnitSystem;
  readonly areaUnit: "ha" | "ac";
  /** Without its unit, for a column. */
  areaHa(area: number): string;
  area(areaHa: number): string;
  road(roadKm: number): string;
  /** Around a field. */
  length(lengthM: number): string;
  /** That has to be kept: never rounded to less. */
  keep(lengthM: number): string;
  flying(speedMps: number): string;
  /** Mix, water, granules in bulk. */
  bulk(amount: number, unit: Unit): string;
  /** Of a product: less than a whole unit as jugs and scales are marked. */
  dose(amount: number, unit: Unit): string;
  /** Of mix, granules or a product on the ground; the area comes with it. */
  bulkPerArea(amountPerHa: number, unit: Unit): string;
  dosePerArea(amountPerHa: number, unit: Unit): string;
  perArea: "per ha" | "per ac";
  /** A limit of what is measured on site, never rounded to less strict: whoever holds what is read here holds the limit. */
  limit(limit: Pick<SiteLimit, "measure" | "bound" | "value">): string;
  measured(measure: SiteLimit["measure"], value: number): string;
  /** What is written down beside a measure by hand. */
  unitOf(measure: SiteLimit["measure"]): string;
}

const metricUnits = { wind: "km/h", gust: "km/h", "Delta T": "°C", temperature: "°C", humidity: "%" } as const;
const usUnits = { wind: "mph", gust: "mph", "Delta T": "°F", temperature: "°F", humidity: "%" } as const;
const thousandths = { L: "mL", kg: "g" } as const;

function metricDose(amount: number, unit: Unit): string {
  return amount < 1 ? `${readable(amount * 1000)} ${thousandths[unit]}` : `${readable(amount)} ${unit}`;
}

export const metricMeasures: Measures = {
  system: "metric",
  areaUnit: "ha",
  areaHa: hectares,
  area: (areaHa) => `${hectares(areaHa)} ha`,
  road: (roadKm) => `${kilometres(roadKm)} km`,
  length: (lengthM) => `${Math.round(lengthM)} m`,
  keep: (lengthM) => `${readable(lengthM)} m`,
  flying: (speedMps) => `${readable(speedMps)} m/s`,
  bulk: (amount, unit) => `${readable(amount)} ${unit}`,
  dose: metricDose,
  bulkPerArea: (amountPerHa, unit) => `${readable(amountPerHa)} ${unit}/ha`,
  dosePerArea: metricDose,
  perArea: "per ha",
  limit: ({ measure, value }) => `${readable(value)} ${metricUnits[measure]}`,
  measured: (measure, value) => `${readable(value)} ${metricUnits[measure]}`,
  unitOf: (measure) => metricUnits[measure],
};

const usNames = { L: "gal", kg: "lb" } as const;
/** US fluid ounces of a gallon, ounces of a pound: NIST Handbook 44, appendix C (MEMORY). */
const usParts = { L: { unit: "fl oz", each: 128 }, kg: { unit: "oz", each: 16 } } as const;
const usFrom = { L: gallonsFromL, kg: lbFromKg } as const;

function usDose(amount: number, unit: Unit): string {
  const whole = usFrom[unit](amount);
  const { unit: part, each } = usParts[unit];
  return whole < 1 ? `${readable(whole * each)} ${part}` : `${readable(whole)} ${usNames[unit]}`;
}

/** Rounding that the conversion itself makes. */
const slack = 1e-9;

/** Delta T is a difference, which has no zero of its own. */
function usMeasured(measure: SiteLimit["measure"], value: number): number {
  if (measure === "wind" || measure === "gust") return mphFromKph(value);
  if (measure === "temperature") return fahrenheitFromC(value);
  return measure === "Delta T" ? fahrenheitFromC(value) - fahrenheitFromC(0) : value;
}

/** US customary units. */
export const usMeasures: Measures = {
  system: "us",
  areaUnit: "ac",
  areaHa: (areaHa) => hectares(acresFromHa(areaHa)),
  area: (areaHa) => `${hectares(acresFromHa(areaHa))} ac`,
  road: (roadKm) => `${kilometres(milesFromKm(roadKm))} mi`,
  length: (lengthM) => `${Math.round(ftFromM(lengthM))} ft`,
  keep: (lengthM) => `${Math.ceil(ftFromM(lengthM) - slack)} ft`,
  flying: (speedMps) => `${readable(mphFromKph(kphFromMps(speedMps)))} mph`,
  bulk: (amount, unit) => `${readable(usFrom[unit](amount))} ${usNames[unit]}`,
  dose: usDose,
  bulkPerArea: (amountPerHa, unit) => `${readable(usFrom[unit](amountPerHa) / acresFromHa(1))} ${usNames[unit]}/ac`,
  dosePerArea: (amountPerHa, unit) => usDose(amountPerHa / acresFromHa(1), unit),
  perArea: "per ac",
  limit: ({ measure, bound, value }) => {
    const tenths = usMeasured(measure, value) * 10;
    const safe = bound === "most" ? Math.floor(tenths + slack) : Math.ceil(tenths - slack);
    return `${Number((safe / 10).toFixed(1))} ${usUnits[measure]}`;
  },
  measured: (measure, value) => `${readable(Math.round(usMeasured(measure, value) * 10) / 10)} ${usUnits[measure]}`,
  unitOf: (measure) => usUnits[measure],
};

export const measuresOf: Readonly<Record<UnitSystem, Measures>> = { metric: metricMeasures, us: usMeasures };
