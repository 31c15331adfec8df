/** What stands beside a change, a line each: its own names of things, in words where they are lists or deeper. */
export function detailLines(details: Readonly<Record<string, unknown>>): readonly (readonly [string, string])[] {
  return Object.entries(details)
    .map(([name, value]) => [spaced(name), valueWords(value)] as const)
    .filter(([, value]) => value !== "");
}

/** crewId: crew id. */
const spaced = (name: string) =>
  name.replace(/([a-z])([A-Z])/g, (_, before, after) => `${before} ${after.toLowerCase()}`);

function valueWords(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (Array.isArray(value)) return value.map(valueWords).join(", ");
  if (typeof value === "object") {
    return Object.entries(value)
      .map(([name, inner]) => `${spaced(name)} ${valueWords(inner)}`)
      .join(", ");
  }
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value);
}
