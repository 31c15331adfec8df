import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../../services/linear/highs.ts";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { boundApplies } from "../../../../services/solver/bound/boundApplies.ts";
import { type Bound, boundOf } from "../../../../services/solver/bound/boundOf.ts";
import { knownRoutesOf } from "../../../../services/solver/bound/knownRoutes.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import type { LinearSolver } from "../../../../services/solver/linear/solver.ts";
import type { Problem } from "../../../../services/solver/problem.ts";
import { totalCents } from "../../../../services/solver/state.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { optimumOf, searched } from "../../../support/exact/judge.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

/** Told to stop when it has asked so many times. */
function boundAfter(problem: Problem, asks: number, onBetter: (cents: number) => void = () => undefined): Bound {
  let asked = 0;
  return boundOf(problem, { solver: linear, known: () => [], shouldStop: () => asked++ >= asks, onBetter });
}

/** Quick ones of `bench bound`, which does sixty: one of each roster. */
const seeds = [10, 15, 18, 24, 50, 61];

describe("the bound", () => {
  it.each(seeds)("is never above the best plan, and not far below: seed %i", (seed) => {
    const { problem, choice, state } = optimumOf(contestedOperation(seed).operation, linear, "any");
    const told: number[] = [];
    const bound = boundAfter(problem, Number.POSITIVE_INFINITY, (cents) => told.push(cents));
    expect(bound.isFinished).toBe(true);
    expect(bound.cents).toBeLessThanOrEqual(choice.totalCents);
    expect(bound.cents).toBeGreaterThan(0.6 * choice.totalCents);
    expect(told.at(-1)).toBe(bound.cents);
    expect(told).toEqual(told.toSorted((a, b) => a - b));

    // To know the best plan helps, and proves the same.
    const known = knownRoutesOf(problem, state);
    const again = boundOf(problem, { solver: linear, known: () => known, shouldStop: () => false });
    expect(again.cents).toBeLessThanOrEqual(choice.totalCents);

    // Whenever it is stopped.
    for (const asks of [0, 5, 20, 40, 60, 100]) {
      const { cents } = boundAfter(problem, asks);
      if (cents !== null) expect(cents).toBeLessThanOrEqual(choice.totalCents);
    }
    expect(boundAfter(problem, 0)).toMatchObject({ cents: null, isFinished: false });
  });

  it("is never above a plan that the search finds, and says what more of a thing is worth", () => {
    const operation = generateOperation({ orders: 14, crews: 3, days: 2, seed: 2 });
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    const state = searched(problem, { seed: 1, iterations: 400 });
    const bound = boundOf(problem, {
      solver: linear,
      known: () => knownRoutesOf(problem, state),
      shouldStop: () => false,
    });
    expect(bound.cents).toBeLessThanOrEqual(totalCents(state));
    expect(bound.cents).toBeGreaterThan(0.8 * totalCents(state));
    expect(bound.worth.length).toBeGreaterThan(0);
    const { bases, firstDay } = operation.settings;
    const { aircraftTypes, tenders, crews } = operation.fleet;
    const named: string[] = [...aircraftTypes, ...tenders, ...crews].map(({ id }) => id);
    for (const { kind, date, baseId, id, cents } of bound.worth) {
      expect(cents).toBeGreaterThan(0);
      expect(date >= firstDay).toBe(true);
      expect(bases.map((base) => base.id as string)).toContain(baseId);
      if (kind === "charger") expect(id).toBeNull();
      else expect(named).toContain(id);
    }
  });

  it("claims nothing where crews are free to do what it does not know", () => {
    const { problem } = optimumOf(contestedOperation(10).operation, linear);
    expect(boundApplies(problem)).toBeNull();
    const freed = (freedom: object): Problem => ({
      ...problem,
      crews: problem.crews.map((crew) => ({ ...crew, ...freedom })),
    });
    for (const [freedom, words] of [
      [{ mixedOutfit: true }, /several types/],
      [{ overnightBaseIds: ["B2"] }, /sleep away/],
    ] as const) {
      expect(boundApplies(freed(freedom))).toMatch(words);
      expect(boundAfter(freed(freedom), Number.POSITIVE_INFINITY).cents).toBeNull();
    }
    expect(boundApplies(freed({ mixedOutfit: false, overnightBaseIds: [] }))).toBeNull();
  });
});
