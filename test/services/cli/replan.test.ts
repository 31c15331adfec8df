import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan } from "../../../shared/plan/plan.ts";
import { stopsOf } from "../../../shared/plan/totals.ts";
import type { PlanDifference } from "../../../shared/replan/difference.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

function calmhour(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ["--import", import.meta.resolve("tsx"), main, ...words],
    {
      encoding: "utf8",
      timeout: 60_000,
    },
  );
  return { status, stdout, stderr };
}

describe("planning again on the command line", { timeout: 120_000 }, () => {
  let folder: string;
  let planFile: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-replan-"));
    planFile = join(folder, "plan.json");
    const planned = calmhour("plan", small, "--iterations", "30", "--out", planFile);
    expect(planned.status).toBe(0);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("moves what an order withdrawn leaves, keeps the rest, and writes what it is a plan of", () => {
    const plan = JSON.parse(readFileSync(planFile, "utf8")) as Plan;
    const last = stopsOf(plan).toSorted((a, b) => b.work.startMin - a.work.startMin)[0]!.block;
    const now = join(folder, "now");
    cpSync(small, now, { recursive: true });
    const rows = readFileSync(join(now, "orders.csv"), "utf8").split("\n");
    writeFileSync(join(now, "orders.csv"), rows.filter((row) => !row.startsWith(`${last.orderId},`)).join("\n"));

    const words = [now, planFile, "--as-of", `${plan.firstDay}T12:00`, "--told-from", small, "--iterations", "10"];
    const left = join(folder, "left");
    const again = join(folder, "again.json");
    const told = calmhour("replan", ...words, "--json", "--out", again, "--out-dir", left);
    expect(told.status, told.stderr).toBe(0);
    expect(told.stderr).toContain("all is taken to have gone as told");
    expect(told.stderr).toContain("what still holds, after");
    const { difference } = JSON.parse(told.stdout) as { difference: PlanDifference };
    const reasons = difference.changes.filter(({ orderId }) => orderId === last.orderId).map(({ reason }) => reason);
    expect(new Set(reasons)).toEqual(new Set(["orderWithdrawn"]));
    // The plan is one of what is left.
    expect(calmhour("check", left, again).status).toBe(0);
  });

  it("refuses times and progress that cannot be read", () => {
    const progress = join(folder, "progress.json");
    writeFileSync(progress, JSON.stringify([{ blockId: "O-1#1" }]));
    for (const [words, expected] of [
      [["--as-of", "noon"], "expected a local time as 2027-06-09T10:30"],
      [["--as-of", "2031-01-01T00:00"], "the operation's days are over"],
      [["--as-of", "2027-06-14T12:00", "--keep-until", "tomorrow"], "expected a date"],
      [["--as-of", "2027-06-14T12:00", "--progress", progress], "progress.json, 0.orderId"],
    ] as const) {
      const refused = calmhour("replan", small, planFile, ...words);
      expect(refused.status).toBe(2);
      expect(refused.stderr).toContain(expected);
    }
  });
});
