import { randomUUID } from "node:crypto";
import { cp, mkdir, readdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import type { Operation } from "../../shared/model/operation.ts";
import { orderSchema } from "../../shared/model/order.ts";
import { roadSchema } from "../../shared/model/settings.ts";
import { weatherStepSchema } from "../../shared/model/weather.ts";
import { writeTable } from "./csv.ts";
import { type FileFault, fileOfPart } from "./faults.ts";
import { operationFromDocument } from "./read.ts";

export type WriteOutcome = { ok: true } | { ok: false; faults: FileFault[] };

const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;

/** One feature a line, so that a change to a field is a change to a line. */
export function featureLines(collection: { type: string; features: readonly unknown[] }): string {
  const features = collection.features.map((feature) => JSON.stringify(feature)).join(",\n");
  return `{"type":"${collection.type}","features":[\n${features}\n]}\n`;
}

function filesOf(operation: Operation): Record<string, string> {
  return {
    [fileOfPart.settings]: json(operation.settings),
    [fileOfPart.fields]: featureLines(operation.fields),
    [fileOfPart.sensitive]: featureLines(operation.sensitive),
    [fileOfPart.products]: json(operation.products),
    [fileOfPart.orders]: writeTable(orderSchema, operation.orders),
    [fileOfPart.fleet]: json(operation.fleet),
    [fileOfPart.weather]: writeTable(weatherStepSchema, operation.weather),
    [fileOfPart.roads]: writeTable(roadSchema, operation.roads),
    // Most operations have none.
    ...(operation.locks.length > 0 && { [fileOfPart.locks]: json(operation.locks) }),
  };
}

/** What else lies in a folder that is about to be replaced, such as notes, comes along. */
async function keepOthers(from: string, to: string, written: readonly string[]): Promise<void> {
  const names = await readdir(from).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [];
    throw error;
  });
  for (const name of names.filter((other) => !written.includes(other))) {
    await cp(join(from, name), join(to, name), { recursive: true });
  }
}

/**
 * Writes an operation as a scenario folder. An operation that could not be read back is refused; a folder is there whole
 * or as it was, since everything is written beside it and takes its place at the end.
 */
export async function writeScenario(dir: string, operation: Operation): Promise<WriteOutcome> {
  const judged = operationFromDocument(operation);
  if (!judged.ok) return judged;
  const target = resolve(dir);
  const beside = (kind: string) => join(dirname(target), `.${basename(target)}.${kind}-${randomUUID()}`);
  const [fresh, old] = [beside("new"), beside("old")];
  // As judged, so that properties stand in the order of the schema whoever made the operation.
  const files = filesOf(judged.operation);
  try {
    await mkdir(fresh, { recursive: true });
    for (const [name, text] of Object.entries(files)) await writeFile(join(fresh, name), text);
    await keepOthers(target, fresh, Object.values(fileOfPart));
    await swap(target, fresh, old);
  } finally {
    await rm(fresh, { recursive: true, force: true });
  }
  return { ok: true };
}

async function swap(target: string, fresh: string, old: string): Promise<void> {
  const replaced = await rename(target, old).then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code === "ENOENT") return false;
      throw error;
    },
  );
  try {
    await rename(fresh, target);
  } catch (error) {
    if (replaced) await rename(old, target);
    throw error;
  }
  if (replaced) await rm(old, { recursive: true, force: true });
}
