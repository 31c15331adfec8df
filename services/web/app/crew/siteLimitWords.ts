import type { SetBy, SiteLimit } from "../../../../shared/plan/siteLimits.ts";
import { groupBy } from "../../../../shared/plan/totals.ts";
import { fahrenheitFromC, mphFromKph } from "../../../../shared/units/units.ts";
import { crewWords as words } from "../strings/crew.ts";
import type { UnitSystem } from "../units/units.ts";

/** Rounding that the conversion itself makes. */
const slack = 1e-9;

/** A limit to measure against, rounded to its safe side: what is read off the instrument and holds this number holds the limit. */
export const limitWords = (limit: SiteLimit, system: UnitSystem): string =>
  `${limitNumber(limit, system)} ${convert(limit.measure, limit.unit, limit.value, system).unit}`;

function limitNumber({ bound, measure, unit, value }: SiteLimit, system: UnitSystem): string {
  const tenths = convert(measure, unit, value, system).value * 10;
  const safe = (bound === "most" ? Math.floor(tenths + slack) : Math.ceil(tenths - slack)) / 10;
  return Number.isInteger(safe) ? String(safe) : safe.toFixed(1);
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

/** The least and the most of one measure. */
export interface LimitSpan {
  readonly measure: SiteLimit["measure"];
  readonly limits: readonly SiteLimit[];
}

export const spansOf = (limits: readonly SiteLimit[]): LimitSpan[] =>
  [...groupBy(limits, ({ measure }) => measure)].map(([measure, both]) => ({ measure, limits: both }));

/** `3 to 15 km/h`, `at most 24 km/h`. */
export function spanWords(limits: readonly SiteLimit[], system: UnitSystem): string {
  const ofBound = (bound: SiteLimit["bound"]) => limits.find((limit) => limit.bound === bound);
  const [least, most] = [ofBound("least"), ofBound("most")];
  if (least && most) return words.span(limitNumber(least, system), limitWords(most, system));
  return least ? words.least(limitWords(least, system)) : words.most(limitWords(most!, system));
}

/** Who set the limits: one sentence when all are from the same, else one for each. */
export function whoSetWords(spans: readonly LimitSpan[]): string {
  const bySetter = new Map<string, Set<string>>();
  for (const { limits, measure } of spans) {
    for (const { setBy } of limits) {
      const setter = setByWords(setBy);
      bySetter.set(setter, (bySetter.get(setter) ?? new Set()).add(words.measure[measure]));
    }
  }
  const [only, ...others] = bySetter.keys();
  if (only === undefined) return "";
  if (others.length === 0) return words.allSetBy(only);
  return [...bySetter].map(([setter, measures]) => words.setBy([...measures].join(", "), setter)).join(" ");
}
