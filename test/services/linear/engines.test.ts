import { describe, expect, test } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { javascriptLpSolver } from "../../../services/linear/javascriptLpSolver.ts";
import {
  appendColumns,
  buildColumns,
  buildModel,
  type LinearModel,
  relaxed,
} from "../../../services/solver/linear/model.ts";
import type { LinearOutcome, LinearSolution, LinearSolver } from "../../../services/solver/linear/solver.ts";
import { denseModel, motleyModel, packingModel } from "../../support/linearModels.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const highs = await loadHighs();
const engines: readonly (readonly [string, LinearSolver])[] = [
  ["highs", highs],
  ["javascript-lp-solver", javascriptLpSolver],
];

function solution(outcome: LinearOutcome): LinearSolution {
  if (outcome.status === "optimal" || outcome.status === "feasible") return outcome;
  throw new Error(JSON.stringify(outcome));
}

const whole = { integer: true };
const free = { lower: -Infinity };

describe.each(engines)("%s", (_, engine) => {
  test.each<[string, LinearModel]>([
    ["a row out of reach", buildModel([{ lower: 2 }], [{ cost: 1, upper: 1, entries: [[0, 1]] }])],
    ["a column without room", buildModel([], [{ cost: 1, lower: 2, upper: 1, entries: [] }])],
    ["a row without room", buildModel([{ lower: 3, upper: 2 }], [{ cost: 1, entries: [[0, 1]] }])],
    [
      "no whole number between the limits",
      buildModel([], [{ cost: 1, lower: 0.4, upper: 0.6, ...whole, entries: [] }]),
    ],
    [
      "no whole number in the row",
      buildModel([{ lower: 3, upper: 3 }], [{ cost: 1, upper: 9, ...whole, entries: [[0, 2]] }]),
    ],
    ["a row that asks something of no columns", buildModel([{ lower: 1 }], [])],
    [
      "no whole number, though the costs fall without end",
      buildModel(
        [{ lower: 1, upper: 1 }],
        [
          { cost: 0, upper: 9, ...whole, entries: [[0, 2]] },
          { cost: -1, ...whole, entries: [] },
        ],
      ),
    ],
  ])("says infeasible: %s", (_name, model) => {
    expect(engine.solve(model)).toEqual({ status: "infeasible" });
  });

  test.each<[string, LinearModel]>([
    ["without a row", buildModel([], [{ cost: -1, entries: [] }])],
    ["downwards", buildModel([], [{ cost: 1, ...free, entries: [] }])],
    [
      "along a row",
      buildModel(
        [{ lower: 0, upper: 0 }],
        [
          { cost: -1, entries: [[0, 1]] },
          { cost: 0, entries: [[0, -1]] },
        ],
      ),
    ],
    [
      "along a row in whole numbers",
      buildModel(
        [{ lower: 0, upper: 0 }],
        [
          { cost: -1, ...whole, entries: [[0, 1]] },
          { cost: 0, ...whole, entries: [[0, -1]] },
        ],
      ),
    ],
  ])("says unbounded: %s", (_name, model) => {
    expect(engine.solve(model)).toEqual({ status: "unbounded" });
  });

  test.each<[string, LinearModel, number, number[]]>([
    ["nothing at all", buildModel([], []), 0, []],
    ["rows and no columns", buildModel([{ upper: 1 }, { lower: -1 }], []), 0, []],
    [
      "columns and no rows",
      buildModel(
        [],
        [
          { cost: 2, lower: 3, entries: [] },
          { cost: -1, upper: 5, entries: [] },
        ],
      ),
      1,
      [3, 5],
    ],
    [
      "a fixed column",
      buildModel(
        [{ lower: 5 }],
        [
          { cost: 7, lower: 2, upper: 2, entries: [[0, 1]] },
          { cost: 1, entries: [[0, 1]] },
        ],
      ),
      17,
      [2, 3],
    ],
    [
      "a column without a lower limit",
      buildModel([{ lower: -4 }], [{ cost: 1, ...free, upper: 3, entries: [[0, 1]] }]),
      -4,
      [-4],
    ],
    [
      "a free column",
      buildModel(
        [{ lower: 1 }, { upper: 3 }],
        [
          {
            cost: 1,
            ...free,
            entries: [
              [0, 1],
              [1, 1],
            ],
          },
          {
            cost: 1,
            ...free,
            entries: [
              [0, 1],
              [1, -1],
            ],
          },
        ],
      ),
      1,
      [],
    ],
    [
      "entries in any order",
      buildModel(
        [{ upper: 5 }, { upper: 4 }],
        [
          {
            cost: -1,
            entries: [
              [1, 1],
              [0, 1],
            ],
          },
        ],
      ),
      -4,
      [4],
    ],
    [
      "whole numbers between fractional limits",
      buildModel([], [{ cost: -1, lower: 0.5, upper: 3.5, ...whole, entries: [] }]),
      -3,
      [3],
    ],
    [
      "whole numbers below nothing",
      buildModel([{ lower: -7.5 }], [{ cost: 1, lower: -9.5, upper: 0, ...whole, entries: [[0, 2]] }]),
      -3,
      [-3],
    ],
  ])("solves %s", (_name, model, objective, values) => {
    const found = solution(engine.solve(model));
    expect(found).toMatchObject({ status: "optimal", objective });
    values.forEach((value, column) => {
      expect(found.values[column]).toBeCloseTo(value, 6);
    });
  });

  test("tries every choice of a few yes or no and finds none better", () => {
    for (let seed = 1; seed <= 150; seed++) {
      const model = yesOrNo(seed);
      const outcome = engine.solve(model);
      const cheapest = cheapestChoice(model);
      if (cheapest === Infinity) expect(outcome.status, `seed ${seed}`).toBe("infeasible");
      else expect(solution(outcome).objective, `seed ${seed}`).toBeCloseTo(cheapest, 6);
    }
  });

  test("row duals lie between what one step less and one step more of a limit cost", () => {
    const stepSize = 1e-3;
    let judged = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const model = motleyModel(seed, { whole: 0 });
      const outcome = engine.solve(model);
      if (outcome.status !== "optimal") continue;
      outcome.duals!.rowDuals.forEach((dual, row) => {
        const [more, less] = [stepSize, -stepSize].map((step) => {
          const moved = engine.solve(withRowMoved(model, row, step));
          return moved.status === "optimal" ? (moved.objective - outcome.objective) / step : null;
        });
        // The cost is convex in the limits: at a kink the dual is any slope between.
        if (less !== null) expect(dual, `seed ${seed} row ${row}`).toBeGreaterThanOrEqual(less! - 1e-5);
        if (more !== null) expect(dual, `seed ${seed} row ${row}`).toBeLessThanOrEqual(more! + 1e-5);
        if (dual !== 0 && (less !== null || more !== null)) judged++;
      });
    }
    expect(judged).toBeGreaterThan(30);
  });

  test("relaxed: fractions do where whole numbers are asked for, and there are duals", () => {
    const model = packingModel(12, 40, 3, 5);
    const asked = solution(engine.solve(model, { relaxed: true }));
    expect(asked.duals).not.toBeNull();
    expect(asked.objective).toBeCloseTo(solution(engine.solve(relaxed(model))).objective, 4);
    expect(asked.objective).toBeLessThanOrEqual(solution(engine.solve(model)).objective + 1e-6);
    expect(solution(engine.solve(model)).duals).toBeNull();
  });

  test("columns added to an open model count as if they had always been there", () => {
    let model = packingModel(30, 40, 3, 1);
    const open = engine.open(model);
    for (let seed = 2; seed <= 6; seed++) {
      const added = packingModel(30, 20, 3, seed).columns;
      model = appendColumns(model, added);
      open.addColumns(added);
      const outcome = solution(open.solve({ relaxed: true }));
      expect(outcome.values).toHaveLength(model.columns.cost.length);
      expect(outcome.objective).toBeCloseTo(solution(engine.solve(model, { relaxed: true })).objective, 3);
    }
    open.dispose();
  });

  test("an open model may start without columns", () => {
    const open = engine.open(buildModel([{ upper: 3 }], []));
    expect(open.solve()).toMatchObject({ status: "optimal", objective: 0 });
    open.addColumns(buildColumns([{ cost: -2, entries: [[0, 1]] }]));
    expect(open.solve()).toMatchObject({ status: "optimal", objective: -6 });
    open.dispose();
  });

  test("stops at the limit of time", () => {
    const startMs = performance.now();
    const outcome = engine.solve(packingModel(100, 900, 6, 1), { timeLimitS: 0.3 });
    expect(["stopped", "feasible"]).toContain(outcome.status);
    // Wide, for a busy machine; without a limit it takes minutes.
    expect(performance.now() - startMs).toBeLessThan(5000);
  });

  test("gives the same answer again, whatever it solved between", () => {
    const model = packingModel(20, 80, 3, 3);
    const first = engine.solve(model);
    engine.solve(denseModel(20, 20, 1));
    expect(engine.solve(model)).toEqual(first);
  });

  test("a model that contradicts itself is a bug of its maker", () => {
    expect(() => engine.solve(buildModel([], [{ cost: 1, entries: [[0, 1]] }]))).toThrow("row 0, which is not there");
    expect(() => engine.solve(buildModel([], []), { start: Float64Array.of(1) })).toThrow("1 values for 0 columns");
  });
});

describe("both engines agree", () => {
  test.each([
    ["where fractions do", 0],
    ["in whole numbers", 0.6],
  ])("%s", (_, share) => {
    const agreed: Record<string, number> = {};
    for (let seed = 1; seed <= 300; seed++) {
      const model = motleyModel(seed, { whole: share });
      const ours = highs.solve(model);
      const theirs = javascriptLpSolver.solve(model, { timeLimitS: 0.05 });
      expect(ours.status, `seed ${seed}`).not.toMatch(/wrong|stopped/);
      expect(theirs.status, `seed ${seed}`).not.toBe("wrong");
      // The full table may run out of time, most of all where whole numbers have no limits; a claim it makes has to be true.
      if (theirs.status === "stopped") continue;
      if (theirs.status === "feasible")
        expect(theirs.objective).toBeGreaterThanOrEqual(solution(ours).objective - 1e-4);
      else {
        expect(theirs.status, `seed ${seed}`).toBe(ours.status);
        if (theirs.status === "optimal")
          expect(theirs.objective, `seed ${seed}`).toBeCloseTo(solution(ours).objective, 4);
        agreed[theirs.status] = (agreed[theirs.status] ?? 0) + 1;
      }
    }
    expect(agreed.optimal).toBeGreaterThan(30);
    expect(agreed.infeasible).toBeGreaterThan(30);
    expect(agreed.unbounded).toBeGreaterThan(30);
  });

  test.each([
    ["packing", packingModel(40, 150, 4, 2), { relaxed: true }],
    ["packing in whole numbers", packingModel(15, 50, 3, 2), {}],
    ["a dense product mix", denseModel(40, 40, 2), {}],
  ] as const)("on %s", (_, model, options) => {
    const [ours, theirs] = [highs.solve(model, options), javascriptLpSolver.solve(model, options)].map(solution);
    expect([ours!.status, theirs!.status]).toEqual(["optimal", "optimal"]);
    expect(ours!.objective / theirs!.objective).toBeCloseTo(1, 9);
  });
});

describe("highs", () => {
  const hard = packingModel(60, 300, 5, 3);

  test("starts from an answer it is given, and tells what it proved", () => {
    const start = solution(highs.solve(hard, { timeLimitS: 0.5 })).values;
    const cost = start.reduce((sum, value, column) => sum + value * hard.columns.cost[column]!, 0);
    const outcome = solution(highs.solve(hard, { maxNodes: 0, start }));
    expect(outcome.objective).toBeLessThanOrEqual(cost);
    expect(outcome.bound).toBeLessThanOrEqual(outcome.objective);
    // Without the start no node has been worked yet, and no answer found.
    expect(highs.solve(hard, { maxNodes: 0 }).status).toBe("stopped");
  });

  test("a gap ends the search early, within the gap", () => {
    const outcome = solution(highs.solve(packingModel(25, 100, 3, 4), { gap: 0.2 }));
    expect(outcome.status).toBe("optimal");
    expect(outcome.objective - outcome.bound).toBeLessThanOrEqual(0.2 * Math.abs(outcome.objective) + 1e-6);
  });

  test("a coefficient that it would drop in silence is caught", () => {
    const outcome = highs.solve(buildModel([{ upper: 1 }], [{ cost: -1, upper: 1e12, entries: [[0, 1e-10]] }]));
    expect(outcome.status).toBe("wrong");
  });

  test("nothing may be asked of an open model that was disposed of", () => {
    const open = highs.open(buildModel([{ upper: 1 }], [{ cost: -1, entries: [[0, 1]] }]));
    expect(open.solve().status).toBe("optimal");
    open.dispose();
    expect(() => open.solve()).toThrow("disposed");
  });
});

function yesOrNo(seed: number): LinearModel {
  const random = seededRandom(seed);
  const between = (from: number, to: number) => from + Math.floor(random() * (to - from + 1));
  const rows = Array.from(
    { length: between(1, 5) },
    () =>
      [{ upper: between(0, 12) }, { lower: between(0, 9) }, { lower: between(0, 4), upper: between(5, 9) }][
        between(0, 2)
      ]!,
  );
  return buildModel(
    rows,
    Array.from({ length: between(2, 9) }, () => ({
      cost: between(-9, 9),
      upper: 1,
      integer: true,
      entries: rows.flatMap((_, row) => (random() < 0.7 ? [[row, between(-3, 8)] as const] : [])),
    })),
  );
}

function cheapestChoice({ rowLower, rowUpper, columns }: LinearModel): number {
  let cheapest = Infinity;
  for (let choice = 0; choice < 2 ** columns.cost.length; choice++) {
    const sums = new Float64Array(rowLower.length);
    let cost = 0;
    columns.cost.forEach((each, column) => {
      if (((choice >> column) & 1) === 0) return;
      cost += each;
      for (let entry = columns.starts[column]!; entry < columns.starts[column + 1]!; entry++)
        sums[columns.rows[entry]!]! += columns.values[entry]!;
    });
    if (cost < cheapest && sums.every((sum, row) => sum >= rowLower[row]! && sum <= rowUpper[row]!)) cheapest = cost;
  }
  return cheapest;
}

function withRowMoved(model: LinearModel, moved: number, by: number): LinearModel {
  const move = (limits: Float64Array) => limits.map((limit, row) => (row === moved ? limit + by : limit));
  return { ...model, rowLower: move(model.rowLower), rowUpper: move(model.rowUpper) };
}
