import type { Operation } from "../../shared/model/operation.ts";
import { formatFault } from "../scenario/faults.ts";
import { readScenario, type ScenarioOutcome } from "../scenario/read.ts";

/** What the shell is told. */
export const exitCodes = { good: 0, answerIsNo: 1, badInput: 2 } as const;

/** Bad input: told to the person in these lines, never with a stack. */
export class BadInput extends Error {
  readonly lines: readonly string[];
  constructor(lines: readonly string[]) {
    super(lines.join("\n"));
    this.lines = lines;
  }
}

/** Results go to stdout. */
export function print(text: string): void {
  process.stdout.write(`${text}\n`);
}

export function printJson(value: unknown): void {
  print(JSON.stringify(value, null, 2));
}

/** Progress and remarks go to stderr. */
export function remark(text: string): void {
  process.stderr.write(`${text}\n`);
}

export async function readScenarioOrRefuse(dir: string): Promise<Extract<ScenarioOutcome, { ok: true }>> {
  const outcome = await readScenario(dir);
  if (outcome.ok) return outcome;
  throw new BadInput([`${dir} is refused:`, ...outcome.faults.map((fault) => `  ${formatFault(fault)}`)]);
}

export async function loadScenario(dir: string): Promise<Operation> {
  const { operation, defaultsUsed } = await readScenarioOrRefuse(dir);
  if (defaultsUsed.length > 0) remark(`${dir}: ${defaultsUsed.length} defaults used (import --json lists them)`);
  return operation;
}

/** A whole number of an option, or bad input that names it. */
export function wholeNumber(name: string, least: number, most = Number.POSITIVE_INFINITY): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (!Number.isInteger(value) || value < least || value > most) {
      const range = Number.isFinite(most) ? `from ${least} to ${most}` : `of at least ${least}`;
      throw new BadInput([`${name}: ${text}; expected a whole number ${range}`]);
    }
    return value;
  };
}

/** A number of an option, or bad input that names it. */
export function atLeastZero(name: string): (text: string) => number {
  return (text) => {
    const value = text.trim() === "" ? Number.NaN : Number(text);
    if (!Number.isFinite(value) || value < 0) {
      throw new BadInput([`${name}: ${text}; expected a number of at least 0`]);
    }
    return value;
  };
}

/** The one with the id, or bad input that lists what there is. */
export function named<T extends { readonly id: string }>(list: readonly T[], what: string, id: string): T {
  const found = list.find((item) => item.id === id);
  if (found === undefined) {
    const known = list.slice(0, 12).map((item) => item.id);
    throw new BadInput([
      `${what} ${id} is unknown; expected one of ${known.join(", ")}${list.length > 12 ? ", …" : ""}`,
    ]);
  }
  return found;
}
