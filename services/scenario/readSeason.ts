import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { type Fault, pathText, valueAt } from "../../shared/model/faults.ts";
import { issueWords } from "../../shared/model/issueWords.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { schemaFaults, validateOperation } from "../../shared/model/validate.ts";
import { type WeatherStep, weatherStepSchema } from "../../shared/model/weather.ts";
import { createHistory } from "../../shared/season/history.ts";
import { type Season, seasonFaults } from "../../shared/season/season.ts";
import { seasonDocumentSchema } from "../../shared/season/seasonDocument.ts";
import { readTable } from "./csv.ts";
import { type FileFault, placeInFile, wholeFile } from "./faults.ts";
import { parseJson } from "./jsonText.ts";

export type HistoryOutcome = { ok: true; steps: WeatherStep[] } | { ok: false; faults: FileFault[] };
export type SeasonOutcome = { ok: true; season: Season } | { ok: false; faults: FileFault[] };

/** A table of measured weather, judged as an operation's own is: its stations stand where they could serve its fields. */
export function historyFromTable(file: string, text: string, operation: Operation): HistoryOutcome {
  const table = readTable(file, text, weatherStepSchema);
  const validation = validateOperation({ ...operation, weather: table.entries });
  const ofWeather = validation.ok ? [] : validation.faults.filter(({ path }) => path[0] === "weather");
  const isSaid = ({ path, value }: Fault) =>
    value === undefined && path.length === 3 && table.missingColumns.includes(String(path[2]));
  const placed = ofWeather
    .filter((fault) => !isSaid(fault) && (table.rows.length > 0 || table.faults.length === 0))
    .map((fault) => ({
      ...placeInFile(fault, { ...operation, weather: table.entries }, { weather: table.rows }),
      file,
    }));
  const faults = [...table.faults, ...placed];
  if (faults.length > 0) return { ok: false, faults };
  if (!validation.ok) throw new Error("the operation itself has faults");
  return { ok: true, steps: validation.operation.weather };
}

async function textOf(path: string): Promise<{ text: string } | { fault: FileFault }> {
  const file = basename(path);
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error) {
    return { fault: { file, place: wholeFile, value: bytes.code, expected: "a file that can be read" } };
  }
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes) };
  } catch {
    return { fault: { file, place: wholeFile, value: "other bytes", expected: "text in UTF-8" } };
  }
}

/** A season from its document and its history, held against the operation that it is of; refused whole, with every fault. */
export async function readSeason(
  paths: { readonly season: string; readonly history: string },
  operation: Operation,
): Promise<SeasonOutcome> {
  const file = basename(paths.season);
  const [seasonText, historyText] = [await textOf(paths.season), await textOf(paths.history)];
  const unread = [seasonText, historyText].flatMap((read) => ("fault" in read ? [read.fault] : []));
  if ("fault" in seasonText || "fault" in historyText) return { ok: false, faults: unread };
  const history = historyFromTable(basename(paths.history), historyText.text, operation);
  const historyFaults = history.ok ? [] : history.faults;
  const json = parseJson(seasonText.text);
  if (!json.ok) {
    const broken = json.faults.map(({ line, column, value, expected }) => ({
      file,
      place: `line ${line}, column ${column}`,
      value,
      expected,
    }));
    return { ok: false, faults: [...broken, ...historyFaults] };
  }
  const inDocument = (faults: readonly Fault[]): FileFault[] =>
    faults.map(({ path, value, expected }) => ({
      file,
      place: path.length === 0 ? wholeFile : pathText(path),
      value: value ?? valueAt(json.value, path),
      expected,
    }));
  const parsed = seasonDocumentSchema.safeParse(json.value, { error: issueWords });
  if (!parsed.success) {
    return { ok: false, faults: [...inDocument(schemaFaults(parsed.error.issues, json.value)), ...historyFaults] };
  }
  if (!history.ok) return { ok: false, faults: historyFaults };
  const season = { document: parsed.data, history: createHistory(history.steps, operation.settings.timeZone) };
  const faults = seasonFaults(season, operation);
  return faults.length > 0 ? { ok: false, faults: inDocument(faults) } : { ok: true, season };
}
