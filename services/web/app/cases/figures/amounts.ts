import { type Quantity, type System, shownOf, unitOf } from "../forms/quantity.ts";

/** A figure in a table: in words with its unit, and as the number that a spreadsheet takes. */
export interface Amount {
  readonly words: string;
  readonly value: number;
}

/** Figures in the units that were chosen. */
export interface Amounts {
  readonly area: (areaHa: number) => Amount;
  readonly road: (lengthKm: number) => Amount;
  readonly hours: (minutes: number) => Amount;
  readonly money: (cents: number) => Amount;
  readonly orders: (count: number) => Amount;
  readonly share: (frac: number) => Amount;
  readonly units: { readonly area: string; readonly road: string; readonly money: string };
}

const minutesPerHour = 60;
const milesPerKm = 1 / 1.609344;

export function amountsIn(system: System, currency: string): Amounts {
  const areaUnit = unitOf("areaHa", system, currency);
  const roadUnit = system === "us" ? "mi" : "km";
  const of = (value: number, digits: number, unit: string): Amount => ({
    value: rounded(value, digits),
    words: `${numberWords(value, digits)} ${unit}`.trim(),
  });
  const asShown = (quantity: Quantity, value: number) => shownOf(quantity, system, value);
  return {
    area: (areaHa) => of(asShown("areaHa", areaHa), Math.abs(areaHa) < 10 ? 1 : 0, areaUnit),
    road: (lengthKm) => of(system === "us" ? lengthKm * milesPerKm : lengthKm, 0, roadUnit),
    hours: (minutes) => of(minutes / minutesPerHour, Math.abs(minutes) < 10 * minutesPerHour ? 1 : 0, "h"),
    // Nobody buys by the cent.
    money: (cents) => of(cents / 100, 0, currency),
    orders: (count) => of(count, Number.isInteger(count) ? 0 : 1, ""),
    share: (frac) => of(100 * frac, 0, "%"),
    units: { area: areaUnit, road: roadUnit, money: currency },
  };
}

function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits)) || 0;
}

/** With a true minus, so that a spoken and a printed figure are the same; never "-0". */
export function numberWords(value: number, digits: number): string {
  const amount = rounded(value, digits);
  const words = Math.abs(amount).toLocaleString("en-GB", {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  });
  return amount < 0 ? `−${words}` : words;
}

/** Where the unit stands beside it already. */
export const withoutUnit = ({ words }: Amount): string => words.replace(/ [^ ]+$/, "");
