import { unitOf } from "../../../../../shared/units/unitNames.ts";
import {
  acresFromHa,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  gallonsPerAcreFromLPerHa,
  lbFromKg,
  milesFromKm,
  mphFromKph,
} from "../../../../../shared/units/units.ts";
import type { UnitSystem } from "../../units/units.ts";

/** How a stored number is shown and entered: `shown = stored x factor + offset`. */
export interface Quantity {
  readonly unit: string;
  readonly factor: number;
  readonly offset: number;
}

export interface QuantityContext {
  readonly system: UnitSystem;
  /** ISO 4217. */
  readonly currency: string;
  /** Of a rate per hectare: what the product is measured in. */
  readonly rateUnit: "L" | "kg";
}

const as = (unit: string, factor = 1, offset = 0): Quantity => ({ unit, factor, offset });
const perAcre = 1 / acresFromHa(1);
const inchesFromMm = ftFromM(1 / 1000) * 12;

/** By the unit in a property's name. What is not here is in the same unit everywhere. */
const customary: Readonly<Record<string, Quantity>> = {
  "L/ha": as("gal/ac", gallonsPerAcreFromLPerHa(1)),
  "kg/ha": as("lb/ac", lbFromKg(1) * perAcre),
  "L/min": as("gal/min", gallonsFromL(1)),
  "kg/min": as("lb/min", lbFromKg(1)),
  "kg/L": as("lb/gal", lbFromKg(1) / gallonsFromL(1)),
  "km/h": as("mph", mphFromKph(1)),
  "m/s": as("mph", mphFromKph(3.6)),
  km: as("mi", milesFromKm(1)),
  m: as("ft", ftFromM(1)),
  mm: as("in", inchesFromMm),
  kg: as("lb", lbFromKg(1)),
  ha: as("ac", acresFromHa(1)),
  L: as("gal", gallonsFromL(1)),
  "°C": as("°F", fahrenheitFromC(1) - fahrenheitFromC(0), fahrenheitFromC(0)),
};

/** Prices are kept in hundredths and spoken of in whole money. */
function price(unit: string, { currency, system }: QuantityContext): Quantity {
  const per = unit.slice("cents".length);
  if (system === "metric") return as(`${currency}${per}`, 0.01);
  if (per.includes("per ha")) return as(`${currency}${per.replace("per ha", "per ac")}`, 0.01 * perAcre);
  if (per.includes("per km")) return as(`${currency} per mi`, 0.01 / milesFromKm(1));
  return as(`${currency}${per}`, 0.01);
}

/** Null: a count, a factor, or no quantity at all. */
export function quantityOf(name: string, context: QuantityContext): Quantity | null {
  const named = unitOf(name);
  if (named === undefined) return null;
  if (named.startsWith("cents")) return price(named, context);
  if (named === "share") return as("%", 100);
  const unit = named === "L/ha or kg/ha" ? `${context.rateUnit}/ha` : named;
  // A difference of temperatures has no zero point of its own.
  if (/^deltaT/.test(name)) return context.system === "us" ? as("°F", 1.8) : as("°C");
  return (context.system === "us" ? customary[unit] : undefined) ?? as(unit);
}

/** Enough to tell two settings apart, little enough to read. */
const shownDigits = 6;
const storedDigits = 10;

export function shownNumber(stored: number, quantity: Quantity | null): string {
  if (quantity === null || (quantity.factor === 1 && quantity.offset === 0)) return String(stored);
  return String(Number((stored * quantity.factor + quantity.offset).toPrecision(shownDigits)));
}

const decimalNumber = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

/** What is to be stored of what was typed. What is no number stays as it is typed, for the server to refuse; nothing is nothing. */
export function typedNumber(typed: string, quantity: Quantity | null): number | string | undefined {
  const text = typed.trim();
  if (text === "") return undefined;
  if (!decimalNumber.test(text)) return typed;
  const shown = Number(text);
  if (quantity === null || (quantity.factor === 1 && quantity.offset === 0)) return shown;
  return Number(((shown - quantity.offset) / quantity.factor).toPrecision(storedDigits));
}
