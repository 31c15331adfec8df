import { readable } from "../../../../shared/plan/words.ts";
import { gallonsFromL, lbFromKg } from "../../../../shared/units/units.ts";
import type { UnitSystem } from "../units/units.ts";

/** What is poured and weighed for a load, as jugs and scales are marked: to three figures, and small amounts in the small unit. 128 fluid ounces are a US gallon, 16 ounces a pound (exact by definition, NIST Special Publication 811). */
export function amountWords(amount: number, unit: "L" | "kg", system: UnitSystem): string {
  if (system === "metric") {
    const small = unit === "L" ? "mL" : "g";
    return amount < 1 ? `${readable(amount * 1000)} ${small}` : `${readable(amount)} ${unit}`;
  }
  const whole = unit === "L" ? gallonsFromL(amount) : lbFromKg(amount);
  if (whole >= 1) return `${readable(whole)} ${unit === "L" ? "gal" : "lb"}`;
  return unit === "L" ? `${readable(whole * 128)} fl oz` : `${readable(whole * 16)} oz`;
}
