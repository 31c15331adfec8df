import type { SetBy, SiteLimit } from "../../../../shared/plan/siteLimits.ts";
import { fahrenheitFromC, mphFromKph } from "../../../../shared/units/units.ts";
import { crewWords as words } from "../strings/crew.ts";
import type { UnitSystem } from "../units/units.ts";

/** Rounding that the conversion itself makes. */
const slack = 1e-9;

/** A limit to measure against, rounded to its safe side: what is read off the instrument and holds this number holds the limit. */
export function limitWords({ bound, measure, unit, value }: SiteLimit, system: UnitSystem): string {
  const converted = convert(measure, unit, value, system);
  const tenths = converted.value * 10;
  const safe = (bound === "most" ? Math.floor(tenths + slack) : Math.ceil(tenths - slack)) / 10;
  return `${Number.isInteger(safe) ? safe : safe.toFixed(1)} ${converted.unit}`;
}

/** What was measured, to the tenth. */
export function measuredWords(
  measure: SiteLimit["measure"],
  unit: SiteLimit["unit"],
  value: number,
  system: UnitSystem,
) {
  const converted = convert(measure, unit, value, system);
  return `${Math.round(converted.value * 10) / 10} ${converted.unit}`;
}

function convert(measure: SiteLimit["measure"], unit: SiteLimit["unit"], value: number, system: UnitSystem) {
  if (system === "metric" || unit === "%") return { value, unit };
  if (unit === "km/h") return { value: mphFromKph(value), unit: "mph" };
  // Delta T is a difference of two temperatures: no zero point of its own.
  return { value: measure === "Delta T" ? value * 1.8 : fahrenheitFromC(value), unit: "°F" };
}

export function setByWords(setBy: SetBy): string {
  if (setBy.kind === "label") return words.labelOf(setBy.productName);
  return setBy.kind === "aircraft" ? setBy.typeName : words.ownRule;
}
