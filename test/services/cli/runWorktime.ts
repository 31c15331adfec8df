import { spawnSync } from "node:child_process";
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

const path = (file: string) => fileURLToPath(new URL(`../../../${file}`, import.meta.url));
const main = path("services/cli/main.ts");
export const [small, demo] = [path("scenarios/small"), path("scenarios/demo")];

export function worktime(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", loader, main, "worktime", ...words], {
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

export function orderTold(...words: string[]): OneOrder {
  return JSON.parse(worktime(...words, "--json").stdout) as OneOrder;
}

export interface Part {
  readonly part: string;
  readonly areaHa: number;
  readonly minutes: number;
  readonly passes: number;
  readonly passKm: number;
  readonly padId: string;
  readonly ferryMin: number;
  readonly loads: number;
  readonly loadSize: number;
  readonly amount: number;
  readonly headingDeg: number;
  readonly aircraftMin: Record<string, number>;
  readonly gains: readonly { readonly minutes: number; readonly gainFrac: number }[];
}
export interface Outcome {
  readonly ok: boolean;
  readonly minutes: number;
  readonly water?: { readonly mixL: number; readonly fills: number };
}
export interface OneOrder {
  readonly fieldId: string;
  readonly areaHa: number;
  readonly ratePerHa: number;
  readonly outfit: {
    readonly aircraftTypeId: string;
    readonly aircraft: number;
    readonly batterySets: number;
    readonly fullSets: number;
    readonly tenderId: string;
    readonly outcome: Outcome & { readonly parts: readonly Part[] };
  };
  readonly others: readonly { readonly tenderId: string; readonly outcome: Outcome }[];
}
export const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** As if it stood in one line. */
export const unwrapped = (text: string) => text.replace(/\s+/g, " ");

type Edit = (text: string) => string;

/** The small scenario in a folder of its own, with some of its files edited. */
export function smallWith(dir: string, edits: Readonly<Record<string, Edit>>): string {
  cpSync(small, dir, { recursive: true });
  for (const [file, edit] of Object.entries(edits)) {
    const before = readFileSync(join(dir, file), "utf8");
    const after = edit(before);
    expect(after).not.toBe(before);
    writeFileSync(join(dir, file), after);
  }
  return dir;
}
