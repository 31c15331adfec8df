import { describe, expect, test } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { javascriptLpSolver } from "../../../services/linear/javascriptLpSolver.ts";
import {
  buildColumns,
  buildModel,
  type ColumnDraft,
  type LinearModel,
  relaxed,
} from "../../../services/solver/linear/model.ts";

const engines = [
  ["highs", await loadHighs()],
  ["javascript-lp-solver", javascriptLpSolver],
] as const;

/** Column by column from a table written row by row, as books print it. */
function fromRows(
  costs: readonly number[],
  rows: readonly { readonly of: readonly number[]; readonly lower?: number; readonly upper?: number }[],
  columns: Partial<ColumnDraft> = {},
): LinearModel {
  return buildModel(
    rows.map(({ of: _, ...limits }) => limits),
    costs.map((cost, column) => ({
      cost,
      ...columns,
      entries: rows.flatMap(({ of }, row) => (of[column] === 0 ? [] : [[row, of[column]!] as const])),
    })),
  );
}

/** From sources to sinks: as much as each source has and each sink needs. */
function transport(
  costs: readonly (readonly number[])[],
  has: readonly number[],
  needs: readonly number[],
  integer = false,
) {
  return buildModel(
    [...has, ...needs].map((amount) => ({ lower: amount, upper: amount })),
    costs.flatMap((row, source) =>
      row.map((cost, sink) => ({
        cost,
        integer,
        entries: [
          [source, 1],
          [has.length + sink, 1],
        ] as const,
      })),
    ),
  );
}

const binary = { upper: 1, integer: true };

// All from MEMORY of the books, not looked up again. That two engines reach the printed optimum speaks for the memory.
const published: readonly {
  readonly name: string;
  readonly model: LinearModel;
  readonly objective: number;
  readonly values?: readonly number[];
  readonly rowDuals?: readonly number[];
}[] = [
  {
    name: "product mix of glass doors and windows: Hillier & Lieberman, Introduction to Operations Research, ch. 3 and 6",
    model: fromRows(
      [-3, -5],
      [
        { of: [1, 0], upper: 4 },
        { of: [0, 2], upper: 12 },
        { of: [3, 2], upper: 18 },
      ],
    ),
    objective: -36,
    values: [2, 6],
    // Shadow prices 0, 3/2 and 1 of the profit; here costs.
    rowDuals: [0, -1.5, -1],
  },
  {
    name: "transport of canned peas: Hillier & Lieberman, Introduction to Operations Research, ch. 8",
    model: transport(
      [
        [464, 513, 654, 867],
        [352, 416, 690, 791],
        [995, 682, 388, 685],
      ],
      [75, 125, 100],
      [80, 65, 70, 85],
    ),
    objective: 152_535,
  },
  {
    name: "diet of brownies, ice cream, cola and cheesecake: Winston, Operations Research: Applications and Algorithms, ch. 3.4",
    model: fromRows(
      [50, 20, 30, 80],
      [
        { of: [400, 200, 150, 500], lower: 500 },
        { of: [3, 2, 0, 0], lower: 6 },
        { of: [2, 2, 4, 4], lower: 10 },
        { of: [2, 4, 1, 5], lower: 8 },
      ],
    ),
    objective: 90,
    values: [0, 3, 1, 0],
  },
  {
    name: "knapsack of investments: Winston, Operations Research: Applications and Algorithms, ch. 9.2",
    model: fromRows([-16, -22, -12, -8], [{ of: [5, 7, 4, 3], upper: 14 }], binary),
    objective: -42,
    values: [0, 1, 1, 1],
  },
  {
    name: "the same knapsack where fractions will do: ch. 9.5",
    model: relaxed(fromRows([-16, -22, -12, -8], [{ of: [5, 7, 4, 3], upper: 14 }], binary)),
    objective: -44,
    values: [1, 1, 0.5, 0],
  },
  {
    name: "assignment of machines to jobs: Winston, Operations Research: Applications and Algorithms, ch. 7.5",
    model: transport(
      [
        [14, 5, 8, 7],
        [2, 12, 6, 5],
        [7, 8, 3, 9],
        [2, 4, 6, 10],
      ],
      [1, 1, 1, 1],
      [1, 1, 1, 1],
      true,
    ),
    objective: 15,
    values: [0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 1, 0, 1, 0, 0, 0],
  },
  {
    name: "factories and a warehouse: Hillier & Lieberman, Introduction to Operations Research, ch. 11 (12 in later editions)",
    model: fromRows(
      [-9, -5, -6, -4],
      [
        { of: [6, 3, 5, 2], upper: 10 },
        { of: [0, 0, 1, 1], upper: 1 },
        { of: [-1, 0, 1, 0], upper: 0 },
        { of: [0, -1, 0, 1], upper: 0 },
      ],
      binary,
    ),
    objective: -14,
    values: [1, 1, 0, 0],
  },
  {
    name: "degenerate, on which the simplex of the textbook goes round in circles: Beale 1955, Naval Research Logistics Quarterly 2",
    model: fromRows(
      [-0.75, 150, -0.02, 6],
      [
        { of: [0.25, -60, -0.04, 9], upper: 0 },
        { of: [0.5, -90, -0.02, 3], upper: 0 },
        { of: [0, 0, 1, 0], upper: 1 },
      ],
    ),
    objective: -0.05,
    values: [0.04, 0, 1, 0],
  },
  {
    name: "the longest way round: Klee & Minty 1972, as in Chvátal, Linear Programming, ch. 4",
    model: fromRows(
      [-100, -10, -1],
      [
        { of: [1, 0, 0], upper: 1 },
        { of: [20, 1, 0], upper: 100 },
        { of: [200, 20, 1], upper: 10_000 },
      ],
    ),
    objective: -10_000,
    values: [0, 0, 10_000],
  },
];

describe.each(engines)("%s finds the published optimum", (_, engine) => {
  test.each(published)("$name", ({ model, objective, values, rowDuals }) => {
    const outcome = engine.solve(model);
    if (outcome.status !== "optimal") throw new Error(JSON.stringify(outcome));
    expect(outcome.objective).toBeCloseTo(objective, 6);
    expect(outcome.bound).toBeCloseTo(objective, 6);
    values?.forEach((value, column) => {
      expect(outcome.values[column]).toBeCloseTo(value, 6);
    });
    rowDuals?.forEach((dual, row) => {
      expect(outcome.duals!.rowDuals[row]).toBeCloseTo(dual, 6);
    });
  });
});

/** Rolls of 100 inches cut into widths: Chvátal, Linear Programming, ch. 13 (from MEMORY); by columns as in Gilmore & Gomory 1961. */
describe.each(engines)("%s cuts stock column by column", (_, engine) => {
  const rollWidth = 100;
  const widths = [45, 36, 31, 14];
  const demands = [97, 610, 395, 211];
  const pattern = (counts: readonly number[]): ColumnDraft => ({
    cost: 1,
    integer: true,
    entries: counts.flatMap((count, row) => (count > 0 ? [[row, count] as const] : [])),
  });

  test("452.25 rolls where fractions will do, 453 in whole rolls", () => {
    const open = engine.open(
      buildModel(
        demands.map((lower) => ({ lower })),
        widths.map((width, row) =>
          pattern(widths.map((_, other) => (other === row ? Math.floor(rollWidth / width) : 0))),
        ),
      ),
    );
    for (let round = 0; ; round++) {
      expect(round).toBeLessThan(50);
      const outcome = open.solve({ relaxed: true });
      if (outcome.status !== "optimal") throw new Error(JSON.stringify(outcome));
      const best = dearestPattern(widths, outcome.duals!.rowDuals, rollWidth);
      if (best.worth <= 1 + 1e-9) {
        expect(outcome.objective).toBeCloseTo(452.25, 6);
        break;
      }
      open.addColumns(buildColumns([pattern(best.counts)]));
    }
    const whole = open.solve();
    open.dispose();
    expect(whole).toMatchObject({ status: "optimal", objective: 453 });
  });

  /** Every pattern is tried: there are few that fit. */
  function dearestPattern(pieces: readonly number[], worth: Float64Array, room: number) {
    let best = { worth: 0, counts: pieces.map(() => 0) };
    const fill = (piece: number, left: number, counts: readonly number[]) => {
      if (piece === pieces.length) {
        const sum = counts.reduce((total, count, row) => total + count * worth[row]!, 0);
        if (sum > best.worth) best = { worth: sum, counts: [...counts] };
        return;
      }
      for (let count = 0; count * pieces[piece]! <= left; count++)
        fill(piece + 1, left - count * pieces[piece]!, [...counts, count]);
    };
    fill(0, room, []);
    return best;
  }
});
