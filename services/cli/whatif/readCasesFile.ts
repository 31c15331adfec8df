import { readFile } from "node:fs/promises";
import type { CasesFile } from "../../../shared/cases/cases.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import { pathText, valueAt, valueText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { parseJson } from "../../scenario/jsonText.ts";
import { BadInput } from "../output.ts";

/** Reads a cases file; refuses it whole, with every fault at once. */
export async function readCasesFile(path: string, operation: Operation): Promise<CasesFile> {
  const raw = await readJson(path);
  const read = readCases(raw, operation);
  if (read.ok) return read.file;
  throw refusal(
    path,
    read.faults.map(({ path: place, value, expected }) => {
      const caseId = place[0] === "cases" ? valueAt(raw, [...place.slice(0, 2), "id"]) : undefined;
      const owner = typeof caseId === "string" && place.length > 2 ? ` (case ${caseId})` : "";
      return `${pathText(place) || "the whole file"}${owner}: ${valueText(value)}; expected ${expected}`;
    }),
  );
}

async function readJson(path: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(path, "utf8");
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
