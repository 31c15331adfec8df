import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
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
  placeInDocument,
  placeInFile,
  type TablePart,
  tableParts,
  wholeFile,
} from "./faults.ts";
import { parseJson } from "./jsonText.ts";

export type ScenarioOutcome =
  | { ok: true; operation: Operation; defaultsUsed: DefaultUsed[] }
  | { ok: false; faults: FileFault[] };

const tableSchemas: Record<TablePart, z.ZodObject> = {
  orders: orderSchema,
  weather: weatherStepSchema,
  roads: roadSchema,
};
const isTablePart = (part: Part): part is TablePart => tableParts.some((name) => name === part);
const fileNames: readonly string[] = Object.values(fileOfPart);

/** A decoder that refuses what is not UTF-8 and drops a byte order mark. */
const utf8 = new TextDecoder("utf-8", { fatal: true });

type TextOutcome = { text: string } | { fault: FileFault };

async function readText(dir: string, file: string): Promise<TextOutcome> {
  const bytes = await readFile(join(dir, file)).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error) {
    return { fault: { file, place: wholeFile, value: bytes.code, expected: "a file that can be read" } };
  }
  try {
    return { text: utf8.decode(bytes) };
  } catch {
    return { fault: { file, place: wholeFile, value: "other bytes", expected: "text in UTF-8" } };
  }
}

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

async function readPart(dir: string, part: Part, into: ReadParts): Promise<void> {
  const file = fileOfPart[part];
  const read = await readText(dir, file);
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

/** Reads a scenario folder; refuses it whole, with every fault of every file, when anything in it is wrong. */
export async function readScenario(dir: string): Promise<ScenarioOutcome> {
  const names = await readdir(dir).catch(() => undefined);
  if (names === undefined) {
    const expected = `a folder with ${fileNames.join(", ")}`;
    return { ok: false, faults: [{ file: dir, place: "the folder", value: undefined, expected }] };
  }
  const parts: ReadParts = { raw: {}, tables: {}, faults: strangeFiles(names) };
  for (const part of partNames) {
    if (names.includes(fileOfPart[part])) await readPart(dir, part, parts);
    else if (!optionalParts.includes(part)) {
      parts.faults.push({
        file: fileOfPart[part],
        place: wholeFile,
        value: undefined,
        expected: "a file of this name",
      });
    }
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

/** An operation that comes as one JSON document, judged alike; places are paths in the document. */
export function operationFromDocument(raw: unknown): ScenarioOutcome {
  const validation = validateOperation(raw);
  if (validation.ok) return validation;
  return { ok: false, faults: validation.faults.map((fault) => placeInDocument(fault, raw)) };
}
