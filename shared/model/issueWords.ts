import { z } from "zod";
import { knownWords } from "./misspelling.ts";

type RawIssue = z.core.$ZodRawIssue;

/** The limits of a number, under the names that both zod and JSON Schema give them. */
export interface NumberRange {
  minimum?: number;
  exclusiveMinimum?: number;
  maximum?: number;
}

export function rangeWords({ minimum, exclusiveMinimum, maximum }: NumberRange): string {
  // JSON Schema gives a whole number without limits those of the number format; they say nothing.
  const least = minimum === Number.MIN_SAFE_INTEGER ? undefined : minimum;
  const most = maximum === Number.MAX_SAFE_INTEGER ? undefined : maximum;
  if (exclusiveMinimum !== undefined) return `above ${exclusiveMinimum}${most === undefined ? "" : `, up to ${most}`}`;
  if (least !== undefined) return most === undefined ? `of at least ${least}` : `from ${least} to ${most}`;
  return most === undefined ? "" : `of at most ${most}`;
}

const typeWords: Record<string, string> = {
  boolean: "true or false (in a table: yes or no)",
  array: "a list",
  tuple: "a list",
  object: "an object with properties",
};

const listed = (values: readonly unknown[]) => values.map((value) => JSON.stringify(value)).join(", ");

function numberWords(schema: z.core.$ZodType | undefined): string {
  if (schema === undefined) return "a number";
  const json = z.toJSONSchema(schema, { io: "input" });
  const range = rangeWords(json as NumberRange);
  return `${json.type === "integer" ? "a whole number" : "a number"}${range === "" ? "" : ` ${range}`}`;
}

/** By the names of zod and, where it differs, of JSON Schema. */
const instantWords = "an instant with its offset from UTC, as 2027-06-07T05:00:00+02:00";
const formatWords: Record<string, string> = {
  date: "a date that exists, as 2027-06-07",
  datetime: instantWords,
  "date-time": instantWords,
};

/** What a text is to look like: its format, else its description. */
function textWords(schema: z.core.$ZodType | undefined): string {
  if (schema === undefined) return "text";
  const { format, description } = z.toJSONSchema(schema, { io: "input" });
  return formatWords[format ?? ""] ?? (description === undefined ? "text" : `text (${description})`);
}

function typeExpected(issue: Extract<RawIssue, { code: "invalid_type" }>): string {
  if (issue.expected === "string") return textWords(issue.schema);
  if (issue.expected !== "number" && issue.expected !== "int") return typeWords[issue.expected] ?? issue.expected;
  const wanted = numberWords(issue.schema);
  const comma = typeof issue.input === "string" && /^\s*[-+]?\d+,\d+\s*$/.test(issue.input);
  return comma ? `${wanted}, with a decimal point and not a comma` : wanted;
}

function sizeExpected(issue: Extract<RawIssue, { code: "too_big" | "too_small" }>): string {
  const count = issue.code === "too_small" ? issue.minimum : issue.maximum;
  const limit = issue.code === "too_small" ? `at least ${count}` : `at most ${count}`;
  if (issue.origin === "string") return `text of ${limit} ${Number(count) === 1 ? "letter" : "letters"}`;
  if (issue.origin === "array") return `a list of ${limit}`;
  return numberWords(issue.schema);
}

function propertyExpected(issue: Extract<RawIssue, { code: "unrecognized_keys" }>): string {
  const schema = issue.schema as z.core.$ZodObject | z.core.$ZodRecord | undefined;
  return knownWords(issue.keys, schema === undefined ? [] : namesOf(schema));
}

/** Of an object its properties, of a record with names of its own those. */
function namesOf({ _zod: { def } }: z.core.$ZodObject | z.core.$ZodRecord): string[] {
  return "shape" in def ? Object.keys(def.shape) : [...(def.keyType._zod.values ?? [])].map(String);
}

/** What a schema wanted, in plain words; schemas that carry words of their own go before this. */
export function issueWords(issue: RawIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return typeExpected(issue);
    case "too_big":
    case "too_small":
      return sizeExpected(issue);
    case "invalid_format":
      return formatWords[issue.format] ?? `text in the form ${issue.format}`;
    case "invalid_value":
      return issue.values.length === 1 ? listed(issue.values) : `one of ${listed(issue.values)}`;
    case "invalid_union":
      return `one of ${listed(Array.isArray(issue.options) ? issue.options : [])}`;
    case "unrecognized_keys":
      return propertyExpected(issue);
    default:
      return "another value";
  }
}
