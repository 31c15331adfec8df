import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { judgeTogether, type Together } from "./allTogether.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

/** Some of several hundred that were looked at, so chosen that each feature is met. */
const seeds = [203, 207, 215, 222, 249, 269, 276];

describe("locks, published plans, risk, nights away, two types in an outfit, polish and bound", () => {
  const met: Together["has"][] = [];

  it.each(seeds)("go together: operation %i", (seed) => {
    const { faults, has } = judgeTogether(seed, 50, linear);
    expect(faults).toEqual([]);
    met.push(has);
  });

  it("are all met", () => {
    const sum = (name: keyof Together["has"]) => met.reduce((all, has) => all + has[name], 0);
    for (const name of Object.keys(met[0]!) as (keyof Together["has"])[]) expect(sum(name), name).toBeGreaterThan(0);
  });
});
