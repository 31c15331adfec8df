import type { z } from "zod";
import { valueAt } from "../../shared/model/faults.ts";
import { knownWords, nearestWord } from "../../shared/model/misspelling.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { orderSchema } from "../../shared/model/order.ts";
import { roadSchema } from "../../shared/model/settings.ts";
import { type DefaultUsed, validateOperation } from "../../shared/model/validate.ts";
import { weatherStepSchema } from "../../shared/model/weather.ts";
import { readTable, type Table } from "./csv.ts";
import {
  type FileFault,
  fileOfPart,
  optionalParts,
  type Part,
  partNames,
  placeInFile,
  type TablePart,
  tableParts,
  wholeFile,
} from "./faults.ts";
import { parseJson } from "./jsonText.ts";

export type ScenarioOutcome =
  | { ok: true; operation: Operation; defaultsUsed: DefaultUsed[] }
  | { ok: false; faults: FileFault[] };

/** What stands in a file, or why it cannot be read. */
export type TextOutcome = { text: string } | { fault: FileFault };

const tableSchemas: Record<TablePart, z.ZodObject> = {
  orders: orderSchema,
  weather: weatherStepSchema,
  roads: roadSchema,
};
const isTablePart = (part: Part): part is TablePart => tableParts.some((name) => name === part);
export const fileNames: readonly string[] = Object.values(fileOfPart);

/**
 * Files that look as if they were meant: a misspelt sensitive.geojson would protect nobody. Other JSON, such as a plan,
 * may lie beside.
 */
function strangeFiles(names: readonly string[]): FileFault[] {
  const looksMeant = (name: string) => /\.(csv|geojson)$/i.test(name) || nearestWord(name, fileNames) !== undefined;
  return names
    .filter((name) => !fileNames.includes(name) && looksMeant(name))
    .map((name) => ({ file: name, place: wholeFile, value: name, expected: knownWords([name], fileNames) }));
}

interface ReadParts {
  raw: Partial<Record<Part, unknown>>;
  tables: Partial<Record<TablePart, Table>>;
  faults: FileFault[];
}

function readPart(read: TextOutcome, part: Part, into: ReadParts): void {
  const file = fileOfPart[part];
  if ("fault" in read) {
    into.faults.push(read.fault);
  } else if (isTablePart(part)) {
    const table = readTable(file, read.text, tableSchemas[part]);
    into.tables[part] = table;
    into.faults.push(...table.faults);
    if (table.rows.length > 0 || table.faults.length === 0) into.raw[part] = table.entries;
  } else {
    const json = parseJson(read.text);
    if (json.ok) into.raw[part] = json.value;
    else {
      into.faults.push(
        ...json.faults.map(({ line, column, value, expected }) => ({
          file,
          place: `line ${line}, column ${column}`,
          value,
          expected,
        })),
      );
    }
  }
}

/** Faults of the whole that only repeat what is already said about a file or its header. */
function isSaid(path: readonly (string | number)[], value: unknown, parts: ReadParts): boolean {
  const part = path[0] as Part;
  if (path.length === 1) return value === undefined && parts.faults.some(({ file }) => file === fileOfPart[part]);
  if (!isTablePart(part) || path.length !== 3) return false;
  return value === undefined && (parts.tables[part]?.missingColumns.includes(String(path[2])) ?? false);
}

/** What a cell that holds a list of amounts looks like. */
const amountsCells: Readonly<Record<string, string>> = {
  products: "product:rate, several parted by a semicolon, as prod-a:0.5; prod-b:1.2",
  alternatives:
    "product:rate, several parted by a semicolon, with @ L/ha behind them, as prod-a:0.5 @ 30 | prod-b:1.2 @ 40",
  ground: "well-known text, as MULTIPOLYGON (((11.0 51.0, 11.1 51.0, 11.1 51.1, 11.0 51.0)))",
  apartFrom: "order:hours, several parted by a semicolon, as order-a:48; order-b:24",
};

/**
 * Judges the files of a scenario: refuses them whole, with every fault of every file, when anything is wrong. Where there is an operation already, what is not among the files stays as it is
 * there; `settings` is laid over its settings.
 */
export function readFiles(
  names: readonly string[],
  texts: ReadonlyMap<string, TextOutcome>,
  before: { readonly operation: Operation; readonly settings: Partial<Operation["settings"]> } | null = null,
): ScenarioOutcome {
  const parts: ReadParts = { raw: {}, tables: {}, faults: strangeFiles(names) };
  for (const part of partNames) {
    const file = fileOfPart[part];
    const read = texts.get(file);
    if (read !== undefined) readPart(read, part, parts);
    else if (before !== null) parts.raw[part] = before.operation[part];
    else if (!optionalParts.includes(part)) {
      parts.faults.push({ file, place: wholeFile, value: undefined, expected: "a file of this name" });
    }
  }
  if (before !== null && typeof parts.raw.settings === "object") {
    parts.raw.settings = { ...parts.raw.settings, ...before.settings };
  }
  const validation = validateOperation(parts.raw);
  if (validation.ok && parts.faults.length === 0) return validation;
  const rowsOf = Object.fromEntries(Object.entries(parts.tables).map(([part, table]) => [part, table.rows]));
  const faults = validation.ok ? [] : validation.faults;
  const placed = faults
    .filter(({ path }) => !isSaid(path, valueAt(parts.raw, path), parts))
    .map((fault) => {
      const isCell = fault.path[0] === "orders" && fault.path.length === 3 && typeof fault.value === "string";
      const expected = (isCell && amountsCells[fault.path[2]!]) || fault.expected;
      return placeInFile({ ...fault, expected }, parts.raw, rowsOf);
    });
  return { ok: false, faults: [...parts.faults, ...placed] };
}
