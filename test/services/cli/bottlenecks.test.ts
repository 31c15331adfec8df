import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import type { BottleneckRow } from "../../../shared/cases/bottlenecks.ts";
import type { Use } from "../../../shared/plan/use.ts";

const path = (file: string) => fileURLToPath(new URL(`../../../${file}`, import.meta.url));

function bottlenecks(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const cli = [path("services/cli/main.ts"), "bottlenecks", ...words];
  return spawnSync(process.execPath, ["--import", loader, ...cli], { encoding: "utf8", timeout: 120_000 });
}

describe("bottlenecks on the command line", () => {
  it("tells what is used and what one more would bring, and plans again with it", () => {
    const words = ["--seconds", "1", "--try", "1", "--seeds", "2", "--iterations", "50", "--threads", "1", "--json"];
    const { status, stdout } = bottlenecks(path("scenarios/small"), ...words);
    expect(status).toBe(0);
    const told = JSON.parse(stdout) as { use: Use; units: BottleneckRow[]; method: string };
    expect(told.use.crews.reduce((sum, { dutyMin }) => sum + dutyMin, 0)).toBeGreaterThan(0);
    expect(told.units.length).toBeGreaterThan(0);
    const tried = told.units.filter(({ realised, failed }) => realised !== null || failed !== null);
    expect(tried.length).toBe(told.units.some(({ atMostCents }) => atMostCents > 0) ? 1 : 0);
    for (const { realised } of tried) expect(realised!.cents.pairs).toBe(2);
  }, 120_000);

  it("refuses what is no plan", () => {
    const { status, stderr } = bottlenecks(path("scenarios/small"), "--plan", path("scenarios/small/operation.json"));
    expect(status).toBe(2);
    expect(stderr).toContain("is not a plan");
  }, 60_000);
});
