import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../../services/linear/highs.ts";
import { type Bottlenecks, bottlenecksOf } from "../../../../services/solver/bottlenecks/bottlenecksOf.ts";
import type { LinearSolver } from "../../../../services/solver/linear/solver.ts";
import { prepareOperation } from "../../../../services/solver/planOperation.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";

let linear: LinearSolver;
let byRoutes: Bottlenecks;
beforeAll(async () => {
  linear = await loadHighs();
  byRoutes = told(operation, never);
}, 120_000);

const { operation } = contestedOperation(66);

function told(of: Operation, asks: number): Bottlenecks {
  let asked = 0;
  const { problem } = prepareOperation(of);
  return bottlenecksOf(problem, { solver: linear, known: [], shouldStop: () => asked++ >= asks, most: 3 });
}

const never = Number.POSITIVE_INFINITY;

describe("bottlenecks of a week", () => {
  it("are told by routes, what would bring most first, and the same every time", () => {
    const { method, boundCents, leavesOut, predictions } = byRoutes;
    expect([method, leavesOut]).toEqual(["routes", null]);
    expect(boundCents).toBeGreaterThan(0);
    const estimated = predictions.flatMap(({ cents }) => cents ?? []);
    expect(estimated.length).toBeGreaterThanOrEqual(3);
    expect(estimated).toEqual(estimated.toSorted((a, b) => b - a));
    expect(estimated[0]).toBeGreaterThan(0);
    const third = estimated[2]!;
    // Of those that were not asked none can be among the three.
    for (const { atMostCents, cents } of predictions)
      if (cents === null) expect(atMostCents).toBeLessThanOrEqual(Math.max(1, third));
    expect(told(operation, never)).toEqual(byRoutes);
  }, 120_000);

  it("are told as in a fluid where there is no time for routes: of things and weeks, by their prices", () => {
    const { method, predictions } = told(operation, 100);
    expect(method).toBe("fluid");
    expect(new Set(predictions.map(({ unit }) => unit.kind))).toEqual(
      new Set(["aircraft", "tender", "charger", "dutyHour"]),
    );
    for (const { atMostCents, cents } of predictions) {
      expect(atMostCents).toBeGreaterThanOrEqual(0);
      expect(cents).toBeNull();
    }
  });

  it("claim no bound where crews may do what it leaves out, and say so", () => {
    const crews = operation.fleet.crews.map((crew) => ({ ...crew, mixedOutfit: true }));
    const mixed = told({ ...operation, fleet: { ...operation.fleet, crews } }, never);
    expect(mixed.leavesOut).toMatch(/several types/);
    expect(mixed.boundCents).toBeNull();
    expect(mixed.predictions.map(({ cents }) => cents)).toEqual(
      told(operation, never).predictions.map(({ cents }) => cents),
    );
  });
});
