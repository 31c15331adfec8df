import { describe, expect, it } from "vitest";
import type { PlannedRun } from "../../../shared/cases/differenceIn.ts";
import type { RunResult } from "../../../shared/cases/runResult.ts";
import { calmHoursOf, seasonOf } from "../../../shared/cases/seasonOutcome.ts";
import { resultWith } from "../../support/runOutcomes.ts";

const run = (week: number, seed: number, servedHa: number, more: Partial<RunResult> = {}): PlannedRun => ({
  key: { caseId: "base", seed, week },
  result: { ...resultWith({ servedHa, marginCents: 0 }), ...more },
});
const short: RunResult["conflicts"] = [{ kind: "notEnoughHours", orders: 1, areaHa: 4 }];
const lawful: RunResult["conflicts"] = [{ kind: "harvestTooSoon", orders: 1, areaHa: 4 }];

describe("a season of sampled weeks", () => {
  it("has the quantiles of its weeks, each week the mean of its seeds", () => {
    // Weeks of 0, 10, 20, 30, 40 ha: type 7 gives 4, 10, 20, 30, 36. The last has two seeds, 38 and 42.
    const runs = [run(0, 1, 0), run(1, 1, 10), run(2, 1, 20), run(3, 1, 30), run(4, 1, 38), run(4, 2, 42)];
    expect(seasonOf(runs)!.servedHa).toEqual({ q10: 4, q25: 10, q50: 20, q75: 30, q90: 36 });
  });

  it("tells how often all is done, and how often hours suffice", () => {
    const runs = [
      run(0, 1, 1, { ordersDone: 40 }),
      run(1, 1, 1, { conflicts: lawful }),
      run(2, 1, 1, { conflicts: [...lawful, ...short] }),
      run(3, 1, 1, { conflicts: short }),
    ];
    expect(seasonOf(runs)).toMatchObject({ allDoneFrac: 0.25, hoursSufficeFrac: 0.5 });
  });

  it("has spray hours by month, and is nothing in a week of its own", () => {
    const runs = [
      run(0, 1, 1, { firstDay: "2027-06-28", openHoursPerOrder: 30 }),
      run(1, 1, 1, { firstDay: "2027-05-03", openHoursPerOrder: 20 }),
      run(2, 1, 1, { firstDay: "2027-05-10", openHoursPerOrder: 26 }),
    ];
    expect(calmHoursOf(runs)).toEqual([
      { month: "2027-05", weeks: 2, hoursPerWeek: 23 },
      { month: "2027-06", weeks: 1, hoursPerWeek: 30 },
    ]);
    const own: PlannedRun = { key: { caseId: "base", seed: 1 }, result: resultWith({ servedHa: 1, marginCents: 0 }) };
    expect([seasonOf([own]), calmHoursOf([own])]).toEqual([null, []]);
  });
});
