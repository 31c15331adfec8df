import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));

export function calc(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", loader, main, "calc", ...words], {
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

export function answer<T>(...words: string[]): T {
  const { status, stdout } = calc(...words, "--json");
  expect(status).toBe(0);
  return JSON.parse(stdout) as T;
}

/** The rows of a table of two columns. */
export function rowsOf(text: string): Record<string, string> {
  return Object.fromEntries(text.split("\n").map((line) => line.split(/ {2,}/).slice(0, 2)));
}
