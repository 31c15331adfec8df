import { describe, expect, test } from "vitest";
import { checkAnswer } from "../../../../services/solver/linear/checkAnswer.ts";
import { buildModel, type LinearModel } from "../../../../services/solver/linear/model.ts";
import type { LinearOutcome, LinearSolution } from "../../../../services/solver/linear/solver.ts";

/** Hillier & Lieberman's product mix: 3 x + 5 y, x <= 4, 2 y <= 12, 3 x + 2 y <= 18; 36 at (2, 6), shadow prices 0, 3/2, 1 (from MEMORY). */
const mix = buildModel(
  [{ upper: 4 }, { upper: 12 }, { upper: 18 }],
  [
    {
      cost: -3,
      entries: [
        [0, 1],
        [2, 3],
      ],
    },
    {
      cost: -5,
      entries: [
        [1, 2],
        [2, 2],
      ],
    },
  ],
);

const right: LinearSolution = {
  status: "optimal",
  objective: -36,
  bound: -36,
  values: Float64Array.of(2, 6),
  duals: { rowDuals: Float64Array.of(0, -1.5, -1), reducedCosts: Float64Array.of(0, 0) },
};

/** 3 x + 2 y <= 7 in whole numbers, worth 4 and 3: 10 at (1, 2); where fractions do 10.5 at (0, 3.5). */
const whole = buildModel(
  [{ upper: 7 }],
  [
    { cost: -4, upper: 9, integer: true, entries: [[0, 3]] },
    { cost: -3, upper: 9, integer: true, entries: [[0, 2]] },
  ],
);
const rightWhole: LinearSolution = {
  status: "optimal",
  objective: -10,
  bound: -10,
  values: Float64Array.of(1, 2),
  duals: null,
};

function faultsOf(model: LinearModel, outcome: LinearOutcome, options = {}): string {
  return checkAnswer(model, outcome, options).join("; ");
}

describe("a right answer passes", () => {
  test.each<[string, LinearModel, LinearOutcome]>([
    ["optimal", mix, right],
    ["in whole numbers", whole, rightWhole],
    [
      "feasible and not proven",
      mix,
      { status: "feasible", objective: -3, bound: -Infinity, values: Float64Array.of(1, 0), duals: null },
    ],
    ["off by less than the tolerance", mix, { ...right, values: Float64Array.of(2 + 1e-7, 6 - 1e-7) }],
    ["nothing found", mix, { status: "stopped" }],
  ])("%s", (_, model, outcome) => {
    expect(checkAnswer(model, outcome)).toEqual([]);
  });
});

describe("a wrong answer is caught", () => {
  const duals = (rowDuals: number[], reducedCosts: number[]) => ({
    duals: { rowDuals: Float64Array.from(rowDuals), reducedCosts: Float64Array.from(reducedCosts) },
  });
  test.each<[string, LinearModel, LinearOutcome, string]>([
    ["a row is broken", mix, { ...right, values: Float64Array.of(4, 6), objective: -42, bound: -42 }, "row 2 is 24"],
    ["a row is broken by little", mix, { ...right, values: Float64Array.of(2.0001, 6) }, "row 2 is"],
    ["a column is below its limit", mix, { ...right, values: Float64Array.of(-1, 6) }, "column 0 is -1"],
    ["a value is no number", mix, { ...right, values: Float64Array.of(Number.NaN, 6) }, "column 0 is NaN"],
    ["a value is missing", mix, { ...right, values: Float64Array.of(2) }, "1 values"],
    ["the objective is not what the values cost", mix, { ...right, objective: -37, bound: -37 }, "the values cost -36"],
    ["the bound is over the objective", mix, { ...right, bound: -35 }, "bound -35 over the objective"],
    [
      "a corner that is not the best, with the duals of the best",
      mix,
      { ...right, values: Float64Array.of(4, 3), objective: -27, bound: -27 },
      "gap of 9",
    ],
    [
      "a corner that is not the best, with duals of its own",
      mix,
      { ...right, values: Float64Array.of(4, 3), objective: -27, bound: -27, ...duals([4.5, 0, -2.5], [0, 0]) },
      "the limit -Infinity on that side",
    ],
    ["a dual has the wrong sign", mix, { ...right, ...duals([0, 1.5, -1], [0, -6]) }, "row 1 has the dual 1.5"],
    ["a reduced cost is made up", mix, { ...right, ...duals([0, -1.5, -1], [0, 1]) }, "by the row duals 0"],
    ["a column that would still pay", mix, { ...right, ...duals([0, -1.5, 0], [-3, -2]) }, "column 0 has the dual -3"],
    ["a dual is no number", mix, { ...right, ...duals([0, Number.NaN, -1], [0, 0]) }, "row 1"],
    ["a dual is missing", mix, { ...right, ...duals([0, -1.5], [0, 0]) }, "another size"],
    ["optimal, and no duals to prove it", mix, { ...right, duals: null }, "without duals"],
    [
      "a fraction where a whole number is asked for",
      whole,
      { ...rightWhole, values: Float64Array.of(0, 3.5), objective: -10.5, bound: -10.5 },
      "no whole number",
    ],
    ["optimal, and the bound says otherwise", whole, { ...rightWhole, bound: -10.5 }, "not proven"],
    ["infeasible, and nothing to do keeps every row", mix, { status: "infeasible" }, "said to be infeasible"],
    ["unbounded, and every column is bounded", whole, { status: "unbounded" }, "said to be unbounded"],
  ])("%s", (_, model, outcome, fault) => {
    expect(faultsOf(model, outcome)).toContain(fault);
  });

  test("the bound lies over what the start costs", () => {
    const start = Float64Array.of(1, 2);
    const outcome: LinearSolution = { ...rightWhole, values: Float64Array.of(0, 3), objective: -9, bound: -9 };
    expect(faultsOf(whole, outcome)).toBe("");
    expect(faultsOf(whole, outcome, { start })).toContain("the start costs less");
  });

  test("infeasible, and the start keeps every row", () => {
    const needs = buildModel([{ lower: 1 }], [{ cost: 1, entries: [[0, 1]] }]);
    expect(faultsOf(needs, { status: "infeasible" })).toBe("");
    expect(faultsOf(needs, { status: "infeasible" }, { start: Float64Array.of(2) })).toContain("the start holds");
  });

  test("a gap that was asked for is no fault, a wider one is", () => {
    const outcome: LinearSolution = { ...rightWhole, bound: -10.5 };
    expect(faultsOf(whole, outcome, { gap: 0.1 })).toBe("");
    expect(faultsOf(whole, outcome, { gap: 0.01 })).toContain("not proven");
  });
});
