import { kindsOf } from "./kinds.ts";
import type { Kit, Problem } from "./problem.ts";

/*
 * Where a kit has aircraft of several types, how each stood when another went to work. A row begins with the index of the kind at work, of which the walk itself knows;
 * then for each kind: minutes of work, when the bays will have charged all its sets (or minutes flown on a filling), gear last used (-1: none), since when
 * sets are charged, how many of them wait.
 */

/** Most kinds in a kit: crews take out one or two. */
const mostKinds = 2;
const kindWidth = 5;
export const asideWidth = 1 + mostKinds * kindWidth;

/** Where the numbers of a kind begin in a row. */
export function asideAt(kind: number): number {
  return 1 + kind * kindWidth;
}

/** No kind has worked yet. */
export function clearAside(row: Float64Array): void {
  row.fill(0, 0, asideWidth);
  for (let kind = 0; kind < mostKinds; kind++) row[asideAt(kind) + 2] = -1;
}

/** How the kind at work stands. */
export function putAside(
  row: Float64Array,
  workMin: number,
  energy: number,
  lastGear: number,
  sinceMin: number,
  waitingSets: number,
): void {
  const at = asideAt(row[0]!);
  row[at] = workMin;
  row[at + 1] = energy;
  row[at + 2] = lastGear;
  row[at + 3] = sinceMin;
  row[at + 4] = waitingSets;
}

/** A pause of the kind at work counts for no charging of the others either: what was not charged when the work began is charged so much later. */
export function pauseAside(problem: Problem, kit: Kit, row: Float64Array, startMin: number, pausedMin: number): void {
  kindsOf(kit).forEach(({ signature }, kind) => {
    const at = asideAt(kind);
    if (kind === row[0] || problem.signatures.at(signature).charge === null || row[at + 1]! <= startMin) return;
    row[at + 1] = row[at + 1]! + pausedMin;
    row[at + 3] = row[at + 3]! + pausedMin;
  });
}

/** Running costs of all kinds. */
export function runningCents(problem: Problem, kit: Kit, row: Float64Array): number {
  return kindsOf(kit).reduce((sum, { option }, kind) => {
    const workHours = row[asideAt(kind)]! / 60;
    return sum + workHours * option.count * problem.types[option.type]!.runningCentsPerHour;
  }, 0);
}
