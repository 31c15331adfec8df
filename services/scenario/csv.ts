import { CsvError, parse } from "csv-parse/sync";
import { z } from "zod";
import { knownWords } from "../../shared/model/misspelling.ts";
import { type FileFault, wholeFile } from "./faults.ts";
import { readMultiPolygon, writeMultiPolygon } from "./wellKnownText.ts";

/** The part of JSON Schema that says how a cell is to be read. */
interface ColumnSchema {
  type?: string;
  default?: unknown;
  items?: { properties?: Record<string, ColumnSchema> };
}

export interface Column {
  name: string;
  kind: "number" | "yesNo" | "amounts" | "mixes" | "ground" | "text";
  required: boolean;
  /** What an empty cell says: an empty text or list where the schema has that for a value left out, else nothing. */
  whenEmpty: "" | readonly [] | undefined;
  /** Of amounts: what stands before the colon, and what after it. */
  amountKeys: readonly string[];
  /** Of mixes: what their amounts are called, and the number behind them. */
  mixKeys: readonly string[];
}

function kindOf({ type, items }: ColumnSchema): Column["kind"] {
  if (type === "number" || type === "integer") return "number";
  if (type === "boolean") return "yesNo";
  if (type === "object") return "ground";
  if (type !== "array") return "text";
  return listOf(items?.properties) === undefined ? "amounts" : "mixes";
}

function listOf(properties: Record<string, ColumnSchema> = {}): ColumnSchema | undefined {
  return Object.values(properties).find(({ type }) => type === "array");
}

function emptyValue(value: unknown): Column["whenEmpty"] {
  if (Array.isArray(value) && value.length === 0) return [];
  return value === "" ? "" : undefined;
}

/** The columns of a table are the properties of its schema. */
export function columnsOf(schema: z.ZodObject): Column[] {
  const json = z.toJSONSchema(schema, { io: "input" });
  const properties = (json.properties ?? {}) as Record<string, ColumnSchema>;
  return Object.entries(properties).map(([name, property]) => ({
    name,
    kind: kindOf(property),
    required: json.required?.includes(name) ?? false,
    whenEmpty: emptyValue(property.default),
    amountKeys: Object.keys((listOf(property.items?.properties) ?? property).items?.properties ?? {}),
    mixKeys: Object.keys(property.items?.properties ?? {}),
  }));
}

const decimalNumber = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

/** What isn't a number stays as it is written, for the schema to refuse. */
const numberOrText = (cell: string) => (decimalNumber.test(cell.trim()) ? Number(cell) : cell);

/** One `product:rate` or `order:hours`. */
function amount(text: string, [idKey, numberKey]: readonly string[]): Record<string, string | number> | undefined {
  const colon = text.indexOf(":");
  if (colon < 0) return undefined;
  return { [idKey!]: text.slice(0, colon).trim(), [numberKey!]: numberOrText(text.slice(colon + 1)) };
}

function readCell(column: Column, cell: string): unknown {
  if (cell === "") return column.whenEmpty;
  if (column.kind === "number") return numberOrText(cell);
  if (column.kind === "yesNo") return { yes: true, no: false }[cell.trim()] ?? cell;
  if (column.kind === "text") return cell;
  if (column.kind === "ground") return readMultiPolygon(cell) ?? cell;
  const read: unknown[] | undefined =
    column.kind === "mixes" ? cell.split("|").map((text) => mix(text, column)) : amounts(cell, column);
  return read === undefined || read.includes(undefined) ? cell : read;
}

function amounts(text: string, { amountKeys }: Column): Record<string, unknown>[] | undefined {
  const read = text.split(";").map((one) => amount(one, amountKeys));
  return read.some((one) => one === undefined) ? undefined : (read as Record<string, unknown>[]);
}

/** `product:rate; product:rate @ volume`; without a volume nothing stands behind the amounts. */
function mix(text: string, column: Column): Record<string, unknown> | undefined {
  const [listKey, numberKey] = column.mixKeys;
  const [list, number, ...more] = text.split("@");
  const read = amounts(list!, column);
  if (read === undefined || more.length > 0) return undefined;
  return { [listKey!]: read, ...(number === undefined ? {} : { [numberKey!]: numberOrText(number) }) };
}

export interface Table {
  entries: Record<string, unknown>[];
  /** The row of each entry as a spreadsheet counts, the header being row 1. */
  rows: number[];
  /** Required columns that the header lacks; it is said once, not for every row. */
  missingColumns: string[];
  faults: FileFault[];
}

const noTable = (fault: FileFault): Table => ({ entries: [], rows: [], missingColumns: [], faults: [fault] });

function cellsOf(file: string, text: string): string[][] | FileFault {
  try {
    return parse(text, { relax_column_count: true, record_delimiter: ["\r\n", "\n"] });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const place = typeof error.records === "number" ? `row ${error.records + 1}` : wholeFile;
    const expected = "cells as RFC 4180 has them: a cell with a quote in it stands in quotes, its own quotes doubled";
    return { file, place, value: error.message, expected };
  }
}

function headerFaults(file: string, header: readonly string[], columns: readonly Column[]): FileFault[] {
  const known = columns.map(({ name }) => name);
  const place = "row 1";
  if (header.length === 1 && header[0]!.includes(";")) {
    return [{ file, place, value: header[0], expected: "columns parted by commas, not semicolons" }];
  }
  const faults = header.flatMap((name, at): FileFault[] => {
    if (!known.includes(name)) {
      return [{ file, place: `${place}, column ${name}`, value: name, expected: knownWords([name], known) }];
    }
    if (header.indexOf(name) === at) return [];
    return [{ file, place: `${place}, column ${name}`, value: name, expected: "each column once" }];
  });
  const missing = columns.filter(({ name, required }) => required && !header.includes(name));
  return [
    ...faults,
    ...missing.map(({ name }) => ({ file, place, value: header.join(","), expected: `a column ${name}` })),
  ];
}

/** Reads a table (RFC 4180, with a header) into entries for the schema to judge. */
export function readTable(file: string, text: string, schema: z.ZodObject): Table {
  const cells = cellsOf(file, text);
  if (!Array.isArray(cells)) return noTable(cells);
  const [header, ...body] = cells;
  const columns = columnsOf(schema);
  if (header === undefined) {
    const expected = `a header: ${columns.map(({ name }) => name).join(",")}`;
    return noTable({ file, place: "row 1", value: undefined, expected });
  }
  const table: Table = {
    entries: [],
    rows: [],
    missingColumns: columns.filter(({ name, required }) => required && !header.includes(name)).map(({ name }) => name),
    faults: headerFaults(file, header, columns),
  };
  const inOrder = header.map((name) => columns.find((column) => column.name === name));
  for (const [at, row] of body.entries()) {
    const rowNumber = at + 2;
    if (row.length === 1 && row[0] === "") continue;
    if (row.length !== header.length) {
      const expected = `${header.length} columns, as in the header`;
      table.faults.push({ file, place: `row ${rowNumber}`, value: `${row.length} columns`, expected });
      continue;
    }
    const entry: Record<string, unknown> = {};
    for (const [index, cell] of row.entries()) {
      const column = inOrder[index];
      const value = column === undefined ? undefined : readCell(column, cell);
      if (column !== undefined && value !== undefined) entry[column.name] = value;
    }
    table.entries.push(entry);
    table.rows.push(rowNumber);
  }
  return table;
}

function cellText(column: Column, value: unknown): string {
  if (value === undefined) return "";
  if (column.kind === "yesNo") return value === true ? "yes" : "no";
  if (column.kind === "amounts") return amountsText(column, value);
  if (column.kind === "ground") return writeMultiPolygon(value as Parameters<typeof writeMultiPolygon>[0]);
  if (column.kind !== "mixes") return String(value);
  const [listKey, numberKey] = column.mixKeys;
  return (value as readonly Record<string, unknown>[])
    .map((entry) => {
      const number = entry[numberKey!];
      return `${amountsText(column, entry[listKey!])}${number === undefined ? "" : ` @ ${number}`}`;
    })
    .join(" | ");
}

function amountsText({ amountKeys }: Column, value: unknown): string {
  const entries = value as readonly Record<string, string | number>[];
  return entries.map((entry) => amountKeys.map((key) => entry[key]).join(":")).join("; ");
}

const quoted = (cell: string) => (/[",\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

export function writeTable(schema: z.ZodObject, entries: readonly Record<string, unknown>[]): string {
  const columns = columnsOf(schema);
  const lines = entries.map((entry) => columns.map((column) => quoted(cellText(column, entry[column.name]))).join(","));
  return `${[columns.map(({ name }) => name).join(","), ...lines].join("\n")}\n`;
}
