import { readFileSync } from "node:fs";

/** One line of a file that knows where it stands. */
export interface Line {
  readonly path: string;
  /** counts from 1 */
  readonly number: number;
  readonly text: string;
}

/** Lines that say something. */
export function readLines(path: string): Line[] {
  const lines = readFileSync(path, "utf8")
    .split(/\r?\n/)
    .map((text, index) => ({ path, number: index + 1, text: text.trim() }))
    .filter((line) => line.text !== "");
  if (lines.length === 0) throw new Error(`${path}, line 1: the file is empty`);
  return lines;
}

export function refuse(line: Line, what: string): never {
  throw new Error(`${line.path}, line ${line.number}: ${what}`);
}

export function numbersIn(line: Line, text: string = line.text): number[] {
  return text
    .split(/\s+/)
    .filter((word) => word !== "")
    .map((word) => {
      const value = Number(word);
      if (!Number.isFinite(value)) refuse(line, `"${word}" is not a number`);
      return value;
    });
}

/** Exactly so many numbers. */
export function rowIn(line: Line, count: number): number[] {
  const row = numbersIn(line);
  if (row.length !== count) refuse(line, `${count} numbers expected, ${row.length} found`);
  return row;
}
