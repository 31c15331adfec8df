import {
  acresFromHa,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  lbFromKg,
  mphFromKph,
} from "../../../../shared/units/units.ts";
import { crewWords as words } from "../strings/crew.ts";
import type { UnitSystem } from "../units/units.ts";
import { numberIn } from "./numberIn.ts";

/** How a quantity is typed in the chosen units, and what the API takes of it (shared/done/workReport.ts). */
export interface Quantity {
  readonly unit: string;
  /** From the unit of its name inside. */
  readonly shown: (value: number) => number;
  readonly inside: (shown: number) => number;
  readonly least: number;
  readonly most: number;
}

const linear = (unit: string, factor: number, most: number): Quantity => ({
  unit,
  shown: (value) => value * factor,
  inside: (shown) => shown / factor,
  least: 0,
  most,
});
const doneHaMost = 100_000;
const amountMost = 1_000_000;

export function quantitiesIn(system: UnitSystem) {
  const us = system === "us";
  const speed = (most: number) => linear(us ? "mph" : "km/h", us ? mphFromKph(1) : 1, most);
  return {
    area: linear(us ? "ac" : "ha", us ? acresFromHa(1) : 1, doneHaMost),
    wind: speed(200),
    gust: speed(300),
    temperature: {
      unit: us ? "°F" : "°C",
      shown: (value: number) => (us ? fahrenheitFromC(value) : value),
      inside: (shown: number) => (us ? (shown - 32) / 1.8 : shown),
      least: -40,
      most: 60,
    },
    humidity: linear("%", 1, 100),
    height: linear(us ? "ft" : "m", us ? ftFromM(1) : 1, 100),
    volume: linear(us ? "gal" : "L", us ? gallonsFromL(1) : 1, amountMost),
    mass: linear(us ? "lb" : "kg", us ? lbFromKg(1) : 1, amountMost),
  } satisfies Record<string, Quantity>;
}

export type Typed =
  | { readonly status: "given"; readonly value: number }
  | { readonly status: "empty" }
  | { readonly status: "faulty"; readonly sentence: string };

/** What was typed, in the unit inside; `isPositive`: nothing at all is no value. */
export function typed(text: string, name: string, quantity: Quantity, isPositive = false): Typed {
  if (text.trim() === "") return { status: "empty" };
  const shown = numberIn(text);
  const value = shown === null ? Number.NaN : quantity.inside(shown);
  const isGood = value >= quantity.least && value <= quantity.most && (!isPositive || value > 0);
  if (isGood) return { status: "given", value };
  const { least, most, unit } = quantity;
  const bound = (of: number) => `${Math.round(quantity.shown(of))} ${unit}`;
  return { status: "faulty", sentence: words.notNumber(name, bound(least), bound(most)) };
}

/** As it is put into a field before anybody types. */
export const asTyped = (value: number, quantity: Quantity): string =>
  String(Math.round(quantity.shown(value) * 100) / 100);
