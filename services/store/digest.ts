import { createHash } from "node:crypto";

/** JSON with the members of every object in sorted order, so that equal documents give equal text. */
function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : inner,
  );
}

export function digestOf(document: unknown): string {
  return createHash("sha256").update(sortedJson(document)).digest("hex");
}
