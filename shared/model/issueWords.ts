import type { z } from "zod";

type RawIssue = z.core.$ZodRawIssue;

const typeWords: Record<string, string> = {
  number: "a number",
  int: "a whole number",
  string: "text",
  boolean: "true or false (in a table: yes or no)",
  array: "a list",
  tuple: "a list",
  object: "an object with properties",
};

const listed = (values: readonly unknown[]) => values.map((value) => JSON.stringify(value)).join(", ");

function typeExpected(issue: Extract<RawIssue, { code: "invalid_type" }>): string {
  const wanted = typeWords[issue.expected] ?? issue.expected;
  if (typeof issue.input === "string" && /^\s*[-+]?\d+,\d+\s*$/.test(issue.input)) {
    return `${wanted} with a decimal point, not a comma`;
  }
  return wanted;
}

function sizeExpected(issue: Extract<RawIssue, { code: "too_big" | "too_small" }>): string {
  const small = issue.code === "too_small";
  const limit = String(small ? issue.minimum : issue.maximum);
  if (issue.origin === "string") return small && limit === "1" ? "text that is not empty" : `text of length ${limit}`;
  if (issue.origin === "array") return `a list of at ${small ? "least" : "most"} ${limit}`;
  if (issue.inclusive === false) return `a number ${small ? "above" : "below"} ${limit}`;
  return `a number of at ${small ? "least" : "most"} ${limit}`;
}

const formatWords: Record<string, string> = {
  date: "a date that exists, as 2027-06-07",
  datetime: "an instant with its offset from UTC, as 2027-06-07T05:00:00+02:00",
};

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
    default:
      return "another value";
  }
}
