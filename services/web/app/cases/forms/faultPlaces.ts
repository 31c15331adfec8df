import type { Fault } from "../../../../../shared/contracts/problem.ts";
import { pathText } from "../../../../../shared/model/faults.ts";
import { caseWords } from "../../strings/cases.ts";
import { type ChangeKind, kindForms, kindLabel } from "./kinds.ts";

export type Steps = readonly (string | number)[];

export function isWithin(path: Steps, place: Steps): boolean {
  return place.every((step, at) => path[at] === step);
}

/** What is to be told beside one field: what is wrong there or within it, each thing once. */
export function faultsBeside(faults: readonly Fault[], place: Steps): string[] {
  return [...new Set(faults.filter(({ path }) => isWithin(path, place)).map(({ expected }) => expected))];
}

/** What is wrong with a thing as a whole and stands beside none of its fields: those at its own place, and those of the operation that would come of it. */
export function faultsOfWhole(faults: readonly Fault[], place: Steps): Fault[] {
  return faults.filter(
    ({ path }) => isWithin(path, place) && (path.length === place.length || path[place.length] === "operation"),
  );
}

interface WrittenCase {
  readonly name?: unknown;
  readonly changes?: readonly { readonly kind?: unknown }[];
}

/** The place of a fault as the one who wrote the form knows it: "Case 2, change 1, Crew". */
export function placeWords(path: Steps, cases: readonly WrittenCase[]): string {
  const [top, part, number, member, at, ...rest] = path;
  if (top === "name") return caseWords.set.name;
  if (top === "season") return join(caseWords.season.title, restWords(path.slice(1)));
  if (top !== "cases") return pathText([...path]);
  if (part === "weeksPerYear") return caseWords.set.weeksPerYear;
  if (part === "interestPct") return caseWords.set.interest;
  if (part === "curve") return join(caseWords.curve.title, restWords(path.slice(2)));
  if (part !== "cases" || typeof number !== "number")
    return part === "cases" ? caseWords.set.cases : restWords(path.slice(1));
  const name = `${caseWords.caseNumber(number + 1)}`;
  if (member === "changes" && typeof at === "number")
    return join(name, caseWords.changeNumber(at + 1), labelOf(cases[number]?.changes?.[at]?.kind, rest));
  if (member === "buys") return join(name, typeof at === "number" ? caseWords.buyNumber(at + 1) : caseWords.buys.title);
  return join(name, restWords(path.slice(3)));
}

function labelOf(kind: unknown, rest: Steps): string {
  if (typeof kind !== "string" || !(kind in kindForms)) return restWords(rest);
  const path = rest.join(".");
  const field = kindForms[kind as ChangeKind].fields.find(
    (one) => path === one.path || path.startsWith(`${one.path}.`),
  );
  return field?.label ?? (rest.length === 0 ? kindLabel(kind as ChangeKind) : restWords(rest));
}

const restWords = (path: Steps) => (path.length === 0 ? "" : pathText([...path]));
const join = (...parts: readonly string[]) => parts.filter(Boolean).join(", ");
