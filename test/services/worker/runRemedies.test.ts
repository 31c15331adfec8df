import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { runRemedies } from "../../../services/worker/runRemedies.ts";
import { planned } from "../../support/planned.ts";

const script = new URL("../../../services/worker/remedyThread.ts", import.meta.url);
const operation = generateOperation({ orders: 5, crews: 1, days: 2, seed: 3 });
for (const crew of operation.fleet.crews) for (const shift of crew.shifts) shift.to = "09:00";
const plan = planned(operation, 50);
const ask = { operation, plan, seed: 1, iterations: 10 };
/** Threads start slowly where others take all cores. */
const timeout = 200_000;

describe("remedies tried in threads", () => {
  it("are the same however many threads there are", { timeout }, async () => {
    const told: number[] = [];
    const two = await runRemedies(script, { ...ask, threads: 2 }, ({ tried }) => told.push(tried));
    const one = await runRemedies(script, { ...ask, threads: 1 }, () => {});
    expect(two).toEqual(one);
    expect(two.remarks).toEqual([]);
    expect(two.remedies.groups.reduce((sum, group) => sum + group.tried, 0)).toBeGreaterThan(0);
    expect(told).toEqual(told.map((_, at) => at + 1));
  });

  it("that there was no time for are told as left out", { timeout }, async () => {
    const { remedies } = await runRemedies(script, { ...ask, threads: 1, seconds: 0 }, () => {});
    for (const { remedies: found, tried, leftOut } of remedies.groups) {
      expect([found, tried]).toEqual([[], 0]);
      expect(leftOut).toBeGreaterThanOrEqual(0);
    }
    expect(remedies.groups.some(({ leftOut }) => leftOut > 0)).toBe(true);
  });

  it("are none where every thread is lost, and that is told", { timeout }, async () => {
    const broken = new URL("./threads/throws.ts", import.meta.url);
    const { remedies, remarks } = await runRemedies(broken, { ...ask, threads: 1 }, () => {});
    expect(remarks.join()).toContain("a thread was lost");
    expect(remedies.groups.flatMap((group) => group.remedies)).toEqual([]);
  });
});
