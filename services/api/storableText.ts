import type { Fault } from "../../shared/contracts/problem.ts";

/** U+0000, and halves of a surrogate pair that stand alone: Postgres keeps neither in jsonb. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: the control character is what is looked for.
const unstorable = /\u0000|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

/** Texts anywhere in a document that could not be stored. Walks without recursion, so that no depth overflows it. */
export function unstorableTexts(document: unknown): Fault[] {
  const faults: Fault[] = [];
  const open: { path: (string | number)[]; value: unknown }[] = [{ path: [], value: document }];
  for (let next = open.pop(); next; next = open.pop()) {
    const { path, value } = next;
    if (typeof value === "string") {
      if (unstorable.test(value)) {
        faults.push({
          path,
          value: JSON.stringify(value).slice(0, 200),
          expected: "text of whole Unicode characters without U+0000",
        });
      }
    } else if (Array.isArray(value)) {
      for (const [at, entry] of value.entries()) {
        if (typeof entry === "object" || typeof entry === "string") open.push({ path: [...path, at], value: entry });
      }
    } else if (value !== null && typeof value === "object") {
      for (const [key, entry] of Object.entries(value)) open.push({ path: [...path, key], value: entry });
    }
  }
  return faults;
}
