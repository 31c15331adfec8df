import type { Path } from "../../../../../shared/model/faults.ts";

/** A document that somebody is still writing: any part may be missing or be text where a number belongs. */
export type Draft = Readonly<Record<string, unknown>>;

type Part = Record<string | number, unknown>;

/** The same with another value at the place; `undefined` takes it out, and what has nothing left in it, too. The one given stays as it is. */
export function withValue<Root>(root: Root, path: Path, value: unknown): Root {
  const [step, ...rest] = path;
  if (step === undefined) return value as Root;
  const before = (root ?? (typeof step === "number" ? [] : {})) as Part;
  const copy: Part = Array.isArray(before) ? ([...before] as unknown as Part) : { ...before };
  const next = rest.length === 0 ? value : withValue(before[step], rest, value);
  if (next !== undefined && !isEmptied(next, before[step])) copy[step] = next;
  else if (Array.isArray(copy)) copy.splice(Number(step), 1);
  else delete copy[step];
  return copy as Root;
}

function isEmptied(next: unknown, before: unknown): boolean {
  return (
    typeof next === "object" &&
    next !== null &&
    Object.keys(next).length === 0 &&
    !Array.isArray(next) &&
    next !== before
  );
}

/** "set.power.enduranceMin" as steps; digits are places in lists. */
export function stepsOf(path: string): Path {
  return path.split(".").map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

const usualWeeksPerYear = 20;
const usualInterestPct = 5;

/** A set with nothing in it yet. Our choice: figures to begin with, which are shown to be looked at. */
export function emptySet(): Draft {
  return {
    name: "",
    cases: { formatVersion: 1, cases: [], weeksPerYear: usualWeeksPerYear, interestPct: usualInterestPct },
  };
}

/** An id that no other case has; people never see it. */
export function newCaseId(cases: readonly { readonly id?: unknown }[]): string {
  const taken = new Set(cases.map(({ id }) => id));
  for (let number = 1; ; number++) if (!taken.has(`case-${number}`)) return `case-${number}`;
}

const mostNameCharacters = 120;

/** Of a copy: within an operation the same name is the same set. */
export function copyName(name: string): string {
  const end = ", copy";
  return `${name.slice(0, mostNameCharacters - end.length)}${end}`;
}
