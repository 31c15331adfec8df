/** Columns of a linear model. Entries of column j stand at starts[j] up to starts[j + 1], in any order, no row twice. */
export interface Columns {
  readonly cost: Float64Array;
  /** -Infinity where nothing bounds the column from below. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** 1 where only whole numbers will do. */
  readonly integer: Uint8Array;
  readonly starts: Int32Array;
  readonly rows: Int32Array;
  readonly values: Float64Array;
}

/** Minimise cost · x where lower <= x <= upper and rowLower <= A x <= rowUpper. */
export interface LinearModel {
  readonly rowLower: Float64Array;
  readonly rowUpper: Float64Array;
  readonly columns: Columns;
}

export interface RowDraft {
  /** -Infinity if not given. */
  readonly lower?: number;
  /** Infinity if not given. */
  readonly upper?: number;
}

export interface ColumnDraft {
  readonly cost: number;
  /** 0 if not given. */
  readonly lower?: number;
  /** Infinity if not given. */
  readonly upper?: number;
  readonly integer?: boolean;
  readonly entries: readonly (readonly [row: number, value: number])[];
}

export function buildModel(rows: readonly RowDraft[], columns: readonly ColumnDraft[]): LinearModel {
  return {
    rowLower: Float64Array.from(rows, ({ lower = -Infinity }) => lower),
    rowUpper: Float64Array.from(rows, ({ upper = Infinity }) => upper),
    columns: buildColumns(columns),
  };
}

export function buildColumns(drafts: readonly ColumnDraft[]): Columns {
  const starts = new Int32Array(drafts.length + 1);
  drafts.forEach(({ entries }, column) => {
    starts[column + 1] = starts[column]! + entries.length;
  });
  const entries = drafts.flatMap((draft) => draft.entries);
  return {
    cost: Float64Array.from(drafts, ({ cost }) => cost),
    lower: Float64Array.from(drafts, ({ lower = 0 }) => lower),
    upper: Float64Array.from(drafts, ({ upper = Infinity }) => upper),
    integer: Uint8Array.from(drafts, ({ integer = false }) => Number(integer)),
    starts,
    rows: Int32Array.from(entries, ([row]) => row),
    values: Float64Array.from(entries, ([, value]) => value),
  };
}

export function appendColumns(model: LinearModel, added: Columns): LinearModel {
  const { columns } = model;
  const firstEntry = columns.rows.length;
  return {
    ...model,
    columns: {
      cost: joined(Float64Array, columns.cost, added.cost),
      lower: joined(Float64Array, columns.lower, added.lower),
      upper: joined(Float64Array, columns.upper, added.upper),
      integer: joined(Uint8Array, columns.integer, added.integer),
      starts: joined(
        Int32Array,
        columns.starts,
        added.starts.subarray(1).map((start) => start + firstEntry),
      ),
      rows: joined(Int32Array, columns.rows, added.rows),
      values: joined(Float64Array, columns.values, added.values),
    },
  };
}

function joined<Numbers extends Float64Array | Int32Array | Uint8Array>(
  kind: new (length: number) => Numbers,
  first: Numbers,
  second: Numbers,
): Numbers {
  const both = new kind(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}

/** The same rows and columns, where everything costs the same: any answer will do. */
export function withoutCosts(model: LinearModel): LinearModel {
  return { ...model, columns: { ...model.columns, cost: new Float64Array(model.columns.cost.length) } };
}

/** The same model, in which fractions will do. */
export function relaxed(model: LinearModel): LinearModel {
  return { ...model, columns: { ...model.columns, integer: new Uint8Array(model.columns.integer.length) } };
}

/** The same model, its whole-number columns bounded by whole numbers: engines report bounds as if the fraction between could be had. */
export function withWholeLimits(model: LinearModel): LinearModel {
  const { columns } = model;
  const rounded = (limits: Float64Array, round: (limit: number) => number) =>
    limits.map((limit, column) => (columns.integer[column] === 1 ? round(limit) : limit));
  return {
    ...model,
    columns: { ...columns, lower: rounded(columns.lower, Math.ceil), upper: rounded(columns.upper, Math.floor) },
  };
}

export function hasIntegers({ columns }: LinearModel): boolean {
  return columns.integer.includes(1);
}

/** A model that contradicts itself is a bug of whoever made it. A lower limit over the upper one is none: such a model has no answer. */
export function assertModel({ rowLower, rowUpper, columns }: LinearModel): void {
  const { cost, lower, upper, integer, starts, rows, values } = columns;
  const count = cost.length;
  const sizesAgree =
    rowUpper.length === rowLower.length &&
    [lower.length, upper.length, integer.length, starts.length - 1].every((length) => length === count) &&
    starts[0] === 0 &&
    starts[count] === rows.length &&
    values.length === rows.length;
  if (!sizesAgree) throw new Error("The arrays of a linear model do not fit together.");
  if (!cost.every(Number.isFinite)) throw new Error("A cost is not a finite number.");
  if (!values.every(Number.isFinite)) throw new Error("A coefficient is not a finite number.");
  assertLimits("row", rowLower, rowUpper);
  assertLimits("column", lower, upper);
  const columnOfRow = new Int32Array(rowLower.length).fill(-1);
  starts.forEach((start, column) => {
    if (start > starts[column + 1]!) throw new Error(`Column ${column} ends before it starts.`);
  });
  for (let column = 0; column < count; column++) {
    for (let entry = starts[column]!; entry < starts[column + 1]!; entry++) {
      const row = rows[entry]!;
      if (columnOfRow[row] === undefined) throw new Error(`Column ${column} names row ${row}, which is not there.`);
      if (columnOfRow[row] === column) throw new Error(`Column ${column} names row ${row} twice.`);
      columnOfRow[row] = column;
    }
  }
}

function assertLimits(what: string, lower: Float64Array, upper: Float64Array): void {
  for (let i = 0; i < lower.length; i++) {
    const isRange = lower[i]! < Infinity && upper[i]! > -Infinity;
    if (!isRange) throw new Error(`The limits of ${what} ${i} are no numbers that could hold it.`);
  }
}
