import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { CasesFile } from "../../../shared/cases/cases.ts";
import { readCases, seasonCaseFaults } from "../../../shared/cases/readCases.ts";
import { type Fault, pathText, valueAt, valueText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Season } from "../../../shared/season/season.ts";
import { formatFault } from "../../scenario/faults.ts";
import { parseJson } from "../../scenario/jsonText.ts";
import { readSeason } from "../../scenario/readSeason.ts";
import { BadInput } from "../output.ts";

/** Reads a cases file; refuses it whole, with every fault at once. */
export async function readCasesFile(path: string, operation: Operation): Promise<CasesFile> {
  const raw = await readJson(path);
  const read = readCases(raw, operation);
  if (read.ok) return read.file;
  throw refusal(path, read.faults.map(faultWords(raw)));
}

/** The season that a cases file names, read from beside it. */
export async function readCasesSeason(path: string, file: CasesFile, operation: Operation): Promise<Season> {
  if (file.season === undefined)
    throw refusal(path, ["season: nothing; expected its files, for --weeks to sample from"]);
  const faults = seasonCaseFaults(file);
  if (faults.length > 0) throw refusal(path, faults.map(faultWords(file)));
  const beside = (name: string) => join(dirname(path), name);
  const read = await readSeason({ season: beside(file.season.file), history: beside(file.season.history) }, operation);
  if (read.ok) return read.season;
  throw refusal("the season", read.faults.map(formatFault));
}

function faultWords(raw: unknown): (fault: Fault) => string {
  return ({ path, value, expected }) => {
    const caseId = path[0] === "cases" ? valueAt(raw, [...path.slice(0, 2), "id"]) : undefined;
    const owner = typeof caseId === "string" && path.length > 2 ? ` (case ${caseId})` : "";
    return `${pathText(path) || "the whole file"}${owner}: ${valueText(value)}; expected ${expected}`;
  };
}

async function readJson(path: string): Promise<unknown> {
  let text: string;
  try {
    // Drops the byte order mark that some editors write.
    text = new TextDecoder().decode(await readFile(path));
  } catch (error) {
    throw new BadInput([`${path}: ${(error as Error).message}; expected a file of cases as JSON`]);
  }
  const parsed = parseJson(text);
  if (parsed.ok) return parsed.value;
  throw refusal(
    path,
    parsed.faults.map(
      ({ line, column, value, expected }) => `line ${line}, column ${column}: ${value}; expected ${expected}`,
    ),
  );
}

function refusal(path: string, faults: readonly string[]): BadInput {
  return new BadInput([`${path} is refused:`, ...faults.map((fault) => `  ${fault}`)]);
}
