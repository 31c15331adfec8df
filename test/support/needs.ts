import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

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
