import { accessSync, constants, existsSync, readdirSync } from "node:fs";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";

/** Programs outside the package that some tests need, and what those tests are called. */
export const neededPrograms = {
  "redis-server": "the queue on Redis",
  chromium: "the page in a browser",
} as const;
/** What prepare.ts could not install, a line each; not there when nothing is missing. */
export const notRunFile = new URL("../../.data/not-run.txt", import.meta.url);
export type NeededProgram = keyof typeof neededPrograms;

export function isInstalled(program: NeededProgram): boolean {
  return (process.env.PATH ?? "").split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}

/** A test's name: when what it needs is missing, it says so instead of passing for one that has run. */
export function nameNeeding(program: NeededProgram, name: string): string {
  return isInstalled(program) ? name : `${name} (not run: needs ${program})`;
}

/**
 * Outside routing instances with their best known solutions, a folder for each family. They are no part of the project and stay outside it, so a machine without them
 * has nothing missing: their tests say that they have not run, and nothing fails.
 */
export const benchmarksFolder =
  process.env.CALMHOUR_BENCHMARKS ?? fileURLToPath(new URL("../../../shared/benchmarks", import.meta.url));
export const hasBenchmarks = existsSync(benchmarksFolder) && readdirSync(benchmarksFolder).length > 0;
const neededBenchmarks = "needs the routing instances, see CALMHOUR_BENCHMARKS";

export function nameNeedingBenchmarks(name: string): string {
  return hasBenchmarks ? name : `${name} (not run: ${neededBenchmarks})`;
}

/** A line for each program that is missing and the tests that do not run without it. */
export function missingProgramLines(): string[] {
  const programs = Object.keys(neededPrograms) as NeededProgram[];
  return programs
    .filter((program) => !isInstalled(program))
    .map((program) => `not run: ${neededPrograms[program]}: needs ${program}\n`);
}

/** The same for what comes from outside and may be missing. */
export function missingDataLines(): string[] {
  return hasBenchmarks ? [] : [`not run: outside routing instances: ${neededBenchmarks}\n`];
}
