import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { widthChars } from "../../../shared/plan/textTable.ts";
import { sampleWeek } from "../../../shared/season/sampleWeek.ts";
import { seedOfSample } from "../../../shared/season/seedOfSample.ts";
import { sprayHours, tableHours } from "../../../shared/season/sprayHours.ts";
import { demoWithSeason } from "../../support/demoSeason.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const path = (name: string) => fileURLToPath(new URL(`../../../${name}`, import.meta.url));
const [main, demo, season, history] = [
  "services/cli/main.ts",
  "scenarios/demo",
  "scenarios/cases/season.json",
  "scenarios/cases/history.csv",
].map(path) as [string, string, string, string];

function hours(...words: string[]) {
  const line = ["--import", import.meta.resolve("tsx"), main, "hours", ...words];
  const { status, stdout, stderr } = spawnSync(process.execPath, line, { encoding: "utf8", timeout: 100_000 });
  return { status, stdout, stderr };
}

describe("the hours verb", { timeout: 240_000 }, () => {
  it("tables hours by month and type, for people and as JSON", async () => {
    const { status, stdout } = hours(demo, season, history, "--weeks", "4");
    expect(status).toBe(0);
    expect(Math.max(...stdout.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(widthChars);
    expect(stdout).toMatch(/^west has no weather from 2025-10-01 00:00 to 2026-03-31 00:00\.$/m);

    const json = JSON.parse(hours(demo, season, history, "--weeks", "4", "--json").stdout) as { hours: unknown };
    const own = await demoWithSeason();
    // The generator is the solver's own, written down a second time for tests.
    const weeks = [0, 1, 2, 3].map((index) =>
      sprayHours(sampleWeek(own.operation, own.season, index, seededRandom(seedOfSample(index))).operation),
    );
    const table = tableHours(weeks);
    expect(json.hours).toEqual(table);
    for (const { month, days, anyHoursPerWeek } of table.filter(({ aircraftTypeId }) => aircraftTypeId === "stork")) {
      expect(stdout).toMatch(new RegExp(`^${month} +${days} .* ${anyHoursPerWeek.toFixed(1)}$`, "m"));
    }
  });

  it("refuses a season with all that is wrong, and changed places of its files", () => {
    const { status, stderr } = hours(demo, history, season);
    expect(status).toBe(2);
    expect(stderr).toMatch(/the season is refused:/);
    expect(stderr).toMatch(/history\.csv, line 1, column 1: /);
    expect(stderr).toMatch(/season\.json, row \d/);
  });
});
