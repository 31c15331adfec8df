import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { validateOperation } from "../../shared/model/validate.ts";
import { placeInDocument, wholeFile } from "./faults.ts";
import { fileNames, readFiles, type ScenarioOutcome, type TextOutcome } from "./readFiles.ts";

export type { ScenarioOutcome };

/** A decoder that refuses what is not UTF-8 and drops a byte order mark. */
const utf8 = new TextDecoder("utf-8", { fatal: true });

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

/** Reads a scenario folder; refuses it whole, with every fault of every file, when anything in it is wrong. */
export async function readScenario(dir: string): Promise<ScenarioOutcome> {
  const names = await readdir(dir).catch(() => undefined);
  if (names === undefined) {
    const expected = `a folder with ${fileNames.join(", ")}`;
    return { ok: false, faults: [{ file: dir, place: "the folder", value: undefined, expected }] };
  }
  const texts = new Map<string, TextOutcome>();
  for (const name of fileNames.filter((file) => names.includes(file))) texts.set(name, await readText(dir, name));
  return readFiles(names, texts);
}

/** An operation that comes as one JSON document, judged alike; places are paths in the document. */
export function operationFromDocument(raw: unknown): ScenarioOutcome {
  const validation = validateOperation(raw);
  if (validation.ok) return validation;
  return { ok: false, faults: validation.faults.map((fault) => placeInDocument(fault, raw)) };
}
