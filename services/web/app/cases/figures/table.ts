import { figureWords } from "../../strings/figures.ts";
import { type Amount, withoutUnit } from "./amounts.ts";

/** A cell: what is read on the screen, and the values that go into a file in its place. */
export interface Cell {
  readonly words: string;
  /** A second line: what the words were told from. */
  readonly detail?: string;
  readonly values: readonly (string | number | null)[];
  /** Told in a lower voice: no clear difference, nothing there. */
  readonly isQuiet?: boolean;
}

export interface Column {
  readonly head: string;
  /** Heads of the columns of a file, one for each value of its cells; left out: the head itself. */
  readonly fileHeads?: readonly string[];
  readonly isText?: boolean;
}

/** Figures as they stand in a table, on the screen and in a file alike. */
export interface Figures {
  readonly title: string;
  readonly note?: string;
  /** Of the names of its rows. */
  readonly rowHead: string;
  readonly columns: readonly Column[];
  readonly rows: readonly { readonly name: string; readonly number?: number; readonly cells: readonly Cell[] }[];
}

export const cell = ({ value, words }: Amount): Cell => ({ words, values: [value] });
export const textCell = (words: string, isQuiet = false): Cell => ({ words, values: [words], isQuiet });
export const noCell = (values = 1): Cell => ({ words: "–", values: Array(values).fill(null), isQuiet: true });

export const betweenCell = (low: Amount, high: Amount): Cell => ({
  words: figureWords.between(withoutUnit(low), high.words),
  values: [low.value, high.value],
});

/** RFC 4180. Text that a spreadsheet would reckon with is marked as text (OWASP, CSV injection). */
export function csvOf({ columns, rowHead, rows }: Figures): string {
  const heads = [rowHead, ...columns.flatMap(({ fileHeads, head }) => fileHeads ?? [head])];
  const lines = [heads, ...rows.map(({ cells, name }) => [name, ...cells.flatMap(({ values }) => values)])];
  return lines
    .map((line) => line.map(csvCell).join(","))
    .join("\r\n")
    .concat("\r\n");
}

function csvCell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const plain = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
