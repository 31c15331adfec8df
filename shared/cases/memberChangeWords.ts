import { choiceOf, labelOf } from "../model/memberWords.ts";
import { moneyWords, readable } from "../plan/words.ts";
import { unitOf } from "../units/unitNames.ts";

/** Members that only hold others, whose own words say enough. */
const saysNothing: ReadonlySet<string> = new Set(["power"]);

/** Members and their new values as the forms call them: "endurance 12 min, for spraying: swath 8 m". */
export function memberChangeWords(set: object, currency: string): string {
  return wordsOf(set, currency, "").join(", ");
}

function wordsOf(set: object, currency: string, within: string): string[] {
  return Object.entries(set).flatMap(([name, value]) => {
    const label = begunSmall(labelOf(name));
    if (isGroup(value)) return wordsOf(value, currency, saysNothing.has(name) ? within : `${within}${label}: `);
    return [`${within}${label} ${valueWords(name, value, currency)}`];
  });
}

const isGroup = (value: unknown): value is object =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** But for what is written large wherever it stands: Delta T, EPPO. */
const begunSmall = (label: string) =>
  /^[A-Z][a-z]/.test(label) ? `${label[0]!.toLowerCase()}${label.slice(1)}` : label;

function valueWords(name: string, value: unknown, currency: string): string {
  if (value === null) return "no more";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return numberWords(name, value, currency);
  if (Array.isArray(value)) {
    return value.length === 0 ? "none" : value.map((one) => valueWords(name, one, currency)).join(" and ");
  }
  if (typeof value === "object") return memberChangeWords(value, currency);
  return begunSmall(choiceOf(name, String(value)));
}

function numberWords(name: string, value: number, currency: string): string {
  const unit = unitOf(name);
  if (unit === undefined) return readable(value);
  if (unit.startsWith("cents")) return `${moneyWords(value)} ${currency}${unit.slice("cents".length)}`;
  if (unit === "share") return `${readable(value * 100)} %`;
  // Which of the two it is the product says.
  return unit === "L/ha or kg/ha" ? `${readable(value)} per ha` : `${readable(value)} ${unit}`;
}
