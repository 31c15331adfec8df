import { type Path, pathText } from "./faults.ts";

/** A value that the input left out and that was filled in; `*` stands for any place in a list. */
export interface DefaultUsed {
  path: Path;
  value: unknown;
  /** How many times it was filled in. */
  count: number;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function filledIn(raw: unknown, parsed: unknown, path: Path): { path: Path; value: unknown }[] {
  if (Array.isArray(parsed)) {
    const rawList: unknown[] = Array.isArray(raw) ? raw : [];
    return parsed.flatMap((entry, at) => filledIn(rawList[at], entry, [...path, at]));
  }
  if (!isObject(parsed) || !isObject(raw)) return [];
  return Object.entries(parsed).flatMap(([key, value]) =>
    raw[key] === undefined && value !== undefined
      ? [{ path: [...path, key], value }]
      : filledIn(raw[key], value, [...path, key]),
  );
}

/** What the schema filled in where the input said nothing, each kind of place once. */
export function defaultsUsed(raw: unknown, operation: unknown): DefaultUsed[] {
  const byPlace = new Map<string, DefaultUsed>();
  for (const { path, value } of filledIn(raw, operation, [])) {
    const general = path.map((step) => (typeof step === "number" ? "*" : step));
    const place = pathText(general);
    const before = byPlace.get(place);
    if (before === undefined) byPlace.set(place, { path, value, count: 1 });
    else byPlace.set(place, { path: general, value, count: before.count + 1 });
  }
  return [...byPlace.values()];
}
