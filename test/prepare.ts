import { spawnSync } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import {
  isInstalled,
  missingDataLines,
  missingProgramLines,
  type NeededProgram,
  neededPrograms,
  notRunFile,
} from "./support/needs.ts";

/**
 * Before the tests: installs what some of them need beside the package, where that is possible. What is still missing
 * is told, and a missing program is written down too, so that .ci/run fails: a test that has not run has not passed.
 */
const programs = Object.keys(neededPrograms) as NeededProgram[];
const missing = () => programs.filter((program) => !isInstalled(program));

function install(packages: readonly string[]): void {
  const isRoot = process.getuid?.() === 0;
  const first = isRoot ? [] : ["sudo", "-n"];
  const apt = (...words: string[]) => {
    const [command, ...rest] = [...first, "apt-get", "-q", ...words];
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    return spawnSync(command!, rest, { stdio: ["ignore", "ignore", "inherit"], env }).status === 0;
  };
  if (apt("update")) apt("install", "-y", "--no-install-recommends", ...packages);
}

if (missing().length > 0) {
  process.stdout.write(`Installing ${missing().join(" and ")} ...\n`);
  install(missing());
}
rmSync(notRunFile, { force: true });
const lines = missingProgramLines();
if (lines.length > 0) {
  mkdirSync(new URL(".", notRunFile), { recursive: true });
  writeFileSync(notRunFile, lines.join(""));
}
process.stdout.write([...lines, ...missingDataLines()].join(""));
