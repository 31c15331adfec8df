import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import { comparisonSchema } from "../../../shared/cases/comparison.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import { widthChars } from "../../../shared/plan/textTable.ts";

const path = (name: string) => fileURLToPath(new URL(`../../../${name}`, import.meta.url));
const [main, small, demo] = ["services/cli/main.ts", "scenarios/small", "scenarios/demo"].map(path) as [
  string,
  string,
  string,
];

describe("the whatif verb", { timeout: 240_000 }, () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-whatif-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  function whatif(cases: unknown, ...words: string[]) {
    const file = join(folder, "cases.json");
    writeFileSync(file, typeof cases === "string" ? cases : JSON.stringify(cases));
    const line = ["--import", import.meta.resolve("tsx"), main, "whatif", small, file, ...words];
    const { status, stdout, stderr } = spawnSync(process.execPath, line, { encoding: "utf8", timeout: 200_000 });
    return { status, stdout, stderr };
  }

  async function goodFile() {
    const read = await readScenario(small);
    if (!read.ok) throw new Error("the small scenario is refused");
    const [crew] = read.operation.fleet.crews;
    return {
      formatVersion: 1,
      cases: [{ id: "nobody", name: "Without a crew", changes: [{ kind: "takeCrew", crewId: crew!.id }] }],
      budget: { iterations: 30 },
      seeds: 2,
      weeksPerYear: 20,
      interestPct: 5,
    };
  }

  it("holds cases side by side, for people and as JSON, no wider than the page", async () => {
    const file = await goodFile();
    const { status, stdout } = whatif(file, "--threads", "2");
    expect(status).toBe(0);
    expect(stdout).toMatch(/^1 {2}Without a crew: /m);
    expect(Math.max(...stdout.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(widthChars);
    const json = whatif(file, "--json", "--seeds", "1", "--iterations", "20", "--threads", "1");
    const comparison = comparisonSchema.parse(JSON.parse(json.stdout));
    expect([comparison.seeds, comparison.base.runs, comparison.cases[0]!.runs]).toEqual([1, 1, 1]);
    expect(json.stderr).toMatch(/2 of 2: nobody, seed 1: /);
  });

  it("tells all that is wrong with a file, with the case that it is in", async () => {
    const file = await goodFile();
    const [one] = file.cases;
    const broken = { ...one, id: "two", changes: [{ kind: "takeAircraft", aircraftId: "nothing" }] };
    const { status, stdout, stderr } = whatif({ ...file, cases: [one, broken], seeds: 0 });
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/cases\.json is refused:/);
    expect(stderr).toMatch(/^ {2}seeds: 0; expected a whole number from 1 to 100$/m);
    expect(stderr).toMatch(/^ {2}cases\[1\]\.changes\[0\]\.aircraftId \(case two\): "nothing"; expected one of /m);
    expect(whatif("{").stderr).toMatch(/line 1, column 2: /);
    // A byte order mark is no fault: the file is read as far as it goes.
    expect(whatif("\ufeff{").stderr).toMatch(/the end of the file; expected a property name/);
    expect(whatif(file, "--weeks", "1001").stderr).toMatch(/--weeks: 1001; expected a whole number from 1 to 1000/);
    expect(whatif(file, "--weeks", "2").stderr).toMatch(/season: nothing; expected its files/);
  });

  it.each(["demo", "season-curve"])("has an example that holds for the demo: %s", async (name) => {
    const read = await readScenario(demo);
    if (!read.ok) throw new Error("the demo is refused");
    const cases: unknown = JSON.parse(readFileSync(path(`scenarios/cases/${name}.json`), "utf8"));
    expect(readCases(cases, read.operation)).toMatchObject({ ok: true });
  });
});
