import { choiceOf, labelOf } from "../../../../../shared/model/memberWords.ts";
import { formWords } from "../../strings/forms.ts";
import { deadlineWords, shortDayWordsWithYear } from "../dates.ts";
import { type FormContext, quantityContext } from "../form/context.ts";
import { quantityOf, shownNumber } from "../form/quantities.ts";
import { kindOf, referredBy, type Shape, unionOf } from "../form/shape.ts";

export type FactsContext = Pick<FormContext, "currency" | "optionsOf" | "rateUnitOfProduct" | "system">;

/** A value as people read it, in the units that they have chosen. */
export function valueWords(
  name: string,
  shape: Shape,
  value: unknown,
  facts: FactsContext,
  around: readonly unknown[],
): string {
  if (value === undefined || value === null) return "";
  const kind = kindOf(name, shape);
  if (kind === "number" && typeof value === "number") {
    const quantity = quantityOf(name, quantityContext(facts, around));
    const shown = shownNumber(value, quantity);
    // Money is spoken of to the hundredth.
    const words = /Cents/.test(name) ? Number(shown).toFixed(2) : shown;
    return [words, quantity?.unit].filter(Boolean).join(" ");
  }
  if (kind === "yesNo") return value ? formWords.yes : formWords.no;
  if (kind === "choice") return choiceOf(name, String(value));
  if (kind === "reference") return referenceWords(name, String(value), facts);
  if (name === "latest") return deadlineWords(String(value));
  if (kind === "date" || kind === "dateTime") return shortDayWordsWithYear(String(value));
  if (kind === "choices") {
    const ofOne = (one: unknown) =>
      referredBy(name) ? referenceWords(name, String(one), facts) : choiceOf(name, String(one));
    return (value as unknown[]).map(ofOne).join(", ");
  }
  if (kind === "list") {
    const entries = value as unknown[];
    return entries.map((one) => valueWords(name, shape.items ?? {}, one, facts, around)).join("; ");
  }
  if (name === "geometry") return positionWords((value as { coordinates: number[] | number[][] }).coordinates);
  if (kind === "group" || kind === "union") {
    const inner = kind === "union" ? unionShape(shape, value) : shape;
    return membersIn(inner, value)
      .map(({ member, of, shape: innerShape }) => {
        const words = valueWords(member, innerShape, of, facts, [...around, value]);
        return `${labelOf(member)} ${words}`;
      })
      .join(", ");
  }
  return String(value);
}

/** Latitude first, as people say it; of a line from place to place. */
function positionWords(coordinates: readonly number[] | readonly (readonly number[])[]): string {
  const positions = (Array.isArray(coordinates[0]) ? coordinates : [coordinates]) as readonly (readonly number[])[];
  return positions.map(([lonDeg, latDeg]) => `${latDeg!.toFixed(5)}°, ${lonDeg!.toFixed(5)}°`).join(" to ");
}

function referenceWords(name: string, value: string, { optionsOf }: FactsContext): string {
  return optionsOf(referredBy(name)!).find((option) => option.value === value)?.words ?? value;
}

/** The one of several shapes that the value has. */
export function unionShape(shape: Shape, value: unknown): Shape {
  const { by, shapes } = unionOf(shape);
  return shapes.get(String((value as Record<string, unknown> | null)?.[by])) ?? {};
}

export interface Member {
  readonly member: string;
  readonly shape: Shape;
  readonly of: unknown;
}

/** What of a thing there is to tell, in the order of its shape. */
export function membersIn(shape: Shape, value: unknown): readonly Member[] {
  const members = (value ?? {}) as Readonly<Record<string, unknown>>;
  return Object.entries(shape.properties ?? {})
    .map(([member, inner]) => ({ member, shape: inner, of: members[member] }))
    .filter(({ of }) => of !== undefined && of !== "" && !(Array.isArray(of) && of.length === 0));
}
