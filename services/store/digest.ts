import { createHash } from "node:crypto";

/** JSON with the members of every object in sorted order, so that equal documents give equal text. */
function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(byName))
      : inner,
  );
}

const byName = ([a]: [string, unknown], [b]: [string, unknown]) => (a < b ? -1 : a > b ? 1 : 0);
const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

export function digestOf(document: unknown): string {
  return sha256(sortedJson(document));
}

export interface PartText {
  readonly part: string;
  readonly digest: string;
  readonly text: string;
}

/** The members of a document each by itself, and `digestOf` the whole, for which they need not be written a second time. */
export function digestsOf(document: object): { readonly whole: string; readonly parts: readonly PartText[] } {
  const parts = Object.entries(document)
    .filter(([, body]) => body !== undefined)
    .sort(byName)
    .map(([part, body]) => {
      const text = sortedJson(body);
      return { part, digest: sha256(text), text };
    });
  const whole = sha256(`{${parts.map(({ part, text }) => `${JSON.stringify(part)}:${text}`).join(",")}}`);
  return { whole, parts };
}
