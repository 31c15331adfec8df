import { describe, expect, test } from "vitest";
import {
  appendColumns,
  assertModel,
  buildColumns,
  buildModel,
  type Columns,
  type LinearModel,
} from "../../../../services/solver/linear/model.ts";
import { packingModel } from "../../../support/linearModels.ts";

const model = buildModel(
  [{ lower: 1 }, { upper: 2 }],
  [
    {
      cost: 5,
      entries: [
        [0, 1],
        [1, -1],
      ],
    },
    { cost: 0, lower: -Infinity, upper: 7, integer: true, entries: [] },
  ],
);

test("a model is built column by column", () => {
  expect(model).toEqual({
    rowLower: Float64Array.of(1, -Infinity),
    rowUpper: Float64Array.of(Infinity, 2),
    columns: {
      cost: Float64Array.of(5, 0),
      lower: Float64Array.of(0, -Infinity),
      upper: Float64Array.of(Infinity, 7),
      integer: Uint8Array.of(0, 1),
      starts: Int32Array.of(0, 2, 2),
      rows: Int32Array.of(0, 1),
      values: Float64Array.of(1, -1),
    },
  });
});

test("appended columns are the columns of one model", () => {
  const drafts = [3, 1, 4, 1, 5].map((cost, index) => ({
    cost,
    lower: -index,
    integer: index % 2 === 0,
    entries: [[index % 2, cost] as const].slice(index === 2 ? 1 : 0),
  }));
  const rows = [{ lower: 1 }, { upper: 2 }];
  for (let split = 0; split <= drafts.length; split++) {
    const parts = appendColumns(buildModel(rows, drafts.slice(0, split)), buildColumns(drafts.slice(split)));
    expect(parts).toEqual(buildModel(rows, drafts));
  }
});

describe("a model that contradicts itself is refused", () => {
  const withColumns = (change: Partial<Columns>): LinearModel => ({
    ...model,
    columns: { ...model.columns, ...change },
  });
  test.each<[string, LinearModel, string]>([
    ["rows of two lengths", { ...model, rowUpper: Float64Array.of(1) }, "do not fit"],
    ["columns of two lengths", withColumns({ lower: Float64Array.of(1) }), "do not fit"],
    ["starts that end early", withColumns({ starts: Int32Array.of(0, 1, 1) }), "do not fit"],
    ["starts that go back", withColumns({ starts: Int32Array.of(0, 3, 2) }), "ends before"],
    ["a cost without end", withColumns({ cost: Float64Array.of(Infinity, 0) }), "cost"],
    ["a coefficient that is no number", withColumns({ values: Float64Array.of(1, Number.NaN) }), "coefficient"],
    ["a limit that is no number", withColumns({ upper: Float64Array.of(1, Number.NaN) }), "limits of column 1"],
    ["a row that has to be endless", { ...model, rowLower: Float64Array.of(1, Infinity) }, "limits of row 1"],
    ["a row that is not there", withColumns({ rows: Int32Array.of(0, 2) }), "row 2, which is not there"],
    ["a row below the first", withColumns({ rows: Int32Array.of(0, -1) }), "row -1, which is not there"],
    ["a row twice in a column", withColumns({ rows: Int32Array.of(1, 1) }), "twice"],
  ])("%s", (_, wrong, message) => {
    expect(() => assertModel(wrong)).toThrow(message);
  });

  test("and one that does not is not", () => {
    expect(() => assertModel(model)).not.toThrow();
    expect(() => assertModel(packingModel(20, 50, 3, 1))).not.toThrow();
    expect(() => assertModel(buildModel([], []))).not.toThrow();
    expect(() => assertModel(buildModel([{ lower: 2, upper: 1 }], []))).not.toThrow();
  });
});
