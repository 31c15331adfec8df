import type { Fault } from "../../../../../shared/contracts/problem.ts";
import { fileWords as words } from "../../strings/files.ts";

export interface DroppedFiles {
  /** By name, without the folders that they lay in. */
  readonly texts: Readonly<Record<string, string>>;
  /** Of files that are no text; as the server tells faults of files. */
  readonly faults: readonly Fault[];
}

interface DroppedFile {
  readonly name: string;
  arrayBuffer(): Promise<ArrayBuffer>;
}

/** What else lies in a folder, such as a plan or notes, is not sent. */
const isOurs = ({ name }: DroppedFile) => /[.](csv|geojson|json)$/i.test(name) && !name.startsWith(".");

export async function readDropped(files: readonly DroppedFile[]): Promise<DroppedFiles> {
  const texts: Record<string, string> = {};
  const faults: Fault[] = [];
  for (const file of files.filter(isOurs)) {
    try {
      texts[file.name] = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      faults.push({ path: [file.name, words.wholeFile], value: words.otherBytes, expected: words.notUtf8 });
    }
  }
  return { texts, faults };
}

/** Without these an operation is not whole. */
const neededFiles = ["operation.json", "fields.geojson", "products.json", "orders.csv", "fleet.json", "weather.csv"];

/** A whole folder is an operation by itself; single files go into the one that is worked with, if there is one. */
export function goesInto(names: readonly string[], operationId: string | null): "anOperation" | "theOperation" {
  return operationId === null || neededFiles.every((name) => names.includes(name)) ? "anOperation" : "theOperation";
}

/** A forecast is one table, whatever its file is called. */
export function asForecast({ faults, texts }: DroppedFiles): DroppedFiles {
  const tables = Object.keys(texts).filter((name) => /[.]csv$/i.test(name));
  const [name] = tables;
  if (faults.length > 0) return { texts: {}, faults };
  if (tables.length !== 1 || name === undefined) {
    const value = Object.keys(texts).join(", ");
    return { texts: {}, faults: [{ path: [words.wholeFile], value, expected: words.oneForecast }] };
  }
  return { texts: { "weather.csv": texts[name]! }, faults: [] };
}

const closeHours = { before: 12, after: 24 };

/** A wall-clock time in the zone, as 2027-06-07T05:30. */
export function localTimeIn(timeZone: string, instant: Date): string {
  const parts = new Intl.DateTimeFormat("sv-SE", { timeZone, dateStyle: "short", timeStyle: "short" });
  return parts.format(instant).replace(" ", "T");
}

/** What is offered as the time of issue: now where the forecast begins about now, else when it begins. Somebody looks at it before it is stored. */
export function issuedAsOffered(now: Date, firstStep: string, timeZone: string): string {
  const begins = new Date(firstStep);
  const hoursSince = (now.getTime() - begins.getTime()) / 3_600_000;
  const isAboutNow = hoursSince >= -closeHours.before && hoursSince <= closeHours.after;
  return localTimeIn(timeZone, isAboutNow ? now : begins);
}

export interface FileFaults {
  readonly file: string;
  readonly faults: readonly { readonly place: string; readonly value: unknown; readonly expected: string }[];
}

/** File by file, in the order in which they are told. */
export function faultsByFile(faults: readonly Fault[]): readonly FileFaults[] {
  const byFile = new Map<string, FileFaults["faults"][number][]>();
  for (const { expected, path, value } of faults) {
    const [file = words.wholeFile, ...place] = path.map(String);
    byFile.set(file, [...(byFile.get(file) ?? []), { place: place.join(" › "), value, expected }]);
  }
  return [...byFile].map(([file, of]) => ({ file, faults: of }));
}
