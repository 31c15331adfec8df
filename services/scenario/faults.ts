import { type Fault, type Path, pathText, valueAt, valueText } from "../../shared/model/faults.ts";

/** One thing that is wrong with a scenario: in which file, where in it, what stands there, what should. */
export interface FileFault {
  file: string;
  place: string;
  value: unknown;
  expected: string;
}

/** Which file of a folder holds which part of an operation. */
export const fileOfPart = {
  settings: "operation.json",
  fields: "fields.geojson",
  sensitive: "sensitive.geojson",
  products: "products.json",
  orders: "orders.csv",
  fleet: "fleet.json",
  weather: "weather.csv",
  roads: "roads.csv",
  locks: "locks.json",
} as const;
export type Part = keyof typeof fileOfPart;
export const partNames = Object.keys(fileOfPart) as Part[];
export const optionalParts: readonly Part[] = ["sensitive", "roads", "locks"];
export const tableParts = ["orders", "weather", "roads"] as const;
export type TablePart = (typeof tableParts)[number];

export const wholeFile = "the whole file";

/** What the entries of a list are called in a sentence. */
const entryWord: Record<string, string> = {
  fields: "field",
  sensitive: "sensitive place",
  products: "product",
  orders: "order",
  bases: "base",
  waterPoints: "water point",
  aircraftTypes: "aircraft type",
  aircraft: "aircraft",
  chargers: "charger",
  tenders: "tender",
  crews: "crew",
  people: "person",
};

/** The innermost thing around a place that has an id, as " (field F-07)". */
function ownerWords(path: Path, operation: unknown): string {
  for (let length = path.length - 1; length > 0; length--) {
    if (typeof path[length] !== "number") continue;
    const list = path[length - 1] === "features" ? path[length - 2] : path[length - 1];
    const entry = valueAt(operation, path.slice(0, length + 1));
    const id = valueAt(entry, ["properties", "id"]) ?? valueAt(entry, ["id"]);
    const word = entryWord[String(list)];
    if (typeof id === "string" && word !== undefined) return ` (${word} ${id})`;
  }
  return "";
}

/** The fault's place in the file that its part comes from; rows are counted as a spreadsheet does, the header is 1. */
export function placeInFile(
  fault: Fault,
  operation: unknown,
  rowsOf: Partial<Record<TablePart, readonly number[]>>,
): FileFault {
  const [part, ...rest] = fault.path;
  const file = fileOfPart[part as Part] ?? "operation.json";
  const owner = ownerWords(fault.path, operation);
  const [entry, column] = rest;
  const row = typeof entry === "number" ? rowsOf[part as TablePart]?.[entry] : undefined;
  const { value, expected } = fault;
  if (row !== undefined) {
    const place = column === undefined ? `row ${row}` : `row ${row}, column ${column}`;
    return { file, place: place + owner, value, expected };
  }
  return { file, place: rest.length === 0 ? wholeFile : pathText(rest) + owner, value, expected };
}

/** A fault of a document that holds the whole operation at once. */
export function placeInDocument(fault: Fault, operation: unknown): FileFault {
  const { value, expected } = fault;
  const place = fault.path.length === 0 ? wholeFile : pathText(fault.path) + ownerWords(fault.path, operation);
  return { file: "operation document", place, value, expected };
}

export function formatFault(fault: FileFault): string {
  return `${fault.file}, ${fault.place}: ${valueText(fault.value)}; expected ${fault.expected}`;
}
