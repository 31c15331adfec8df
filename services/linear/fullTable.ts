import library from "javascript-lp-solver";
import type { LinearModel } from "../solver/linear/model.ts";

/** The package tells its types as CommonJS and runs as a module, so its default export has to be dug out of the type. */
const engine = library as unknown as typeof library.default;

export type EngineModel = InstanceType<typeof engine.Model>;
type Variable = ReturnType<EngineModel["addVariable"]>;
type Row = ReturnType<EngineModel["smallerThan"]>;

/** A linear model as javascript-lp-solver wants it: rows with one limit, variables that are not below 0 and have no upper limit. */
export interface FullTable {
  readonly model: EngineModel;
  /** What the columns cost at their offsets, which the engine knows nothing of. */
  readonly offsetCost: number;
  /** Of a solution that the engine has kept, by names; else of the one that it ended with. */
  values(kept?: Readonly<Record<string, number | undefined>>): Float64Array;
  rowDuals(): Float64Array;
}

/** How a column reads in the table: offset + sum of sign * variable. The offset of a whole number is one. */
interface Reading {
  readonly offset: number;
  /** How far the column may go from its offset. */
  readonly room: number;
  readonly signs: readonly (1 | -1)[];
}

/** Null where a column's own limits leave it nothing. */
export function buildTable(asked: LinearModel): FullTable | null {
  const { rowLower, rowUpper, columns } = asked;
  const readings = Array.from(columns.cost, (_, column) => readColumn(asked, column));
  if (readings.some(({ room }) => room < 0)) return null;
  const offsetOfRow = new Float64Array(rowLower.length);
  forEntries(asked, (row, column, value) => {
    offsetOfRow[row]! += value * readings[column]!.offset;
  });
  const model = new engine.Model();
  // It forgets the cost of columns that it has fixed.
  model.usePresolve = false;
  const rows = Array.from(offsetOfRow, (offset, row) => [
    ...(rowUpper[row]! < Infinity ? [model.smallerThan(rowUpper[row]! - offset)] : []),
    ...(rowLower[row]! > -Infinity ? [model.greaterThan(rowLower[row]! - offset)] : []),
  ]);
  const variables = readings.map(({ signs }, column) =>
    signs.map((sign) => {
      const isWhole = columns.integer[column] === 1;
      return { sign, variable: model.addVariable(sign * columns.cost[column]!, null, isWhole) };
    }),
  );
  forEntries(asked, (row, column, value) => {
    for (const { sign, variable } of variables[column]!)
      for (const half of rows[row]!) half.addTerm(sign * value, variable);
  });
  const boundByRow = columnsBoundByRow(asked, readings, offsetOfRow);
  readings.forEach(({ room }, column) => {
    if (room === Infinity || boundByRow[column] === 1) return;
    for (const { variable } of variables[column]!) model.smallerThan(room).addTerm(1, variable);
  });
  return {
    model,
    offsetCost: readings.reduce((sum, { offset }, column) => sum + offset * columns.cost[column]!, 0),
    values: (kept) =>
      Float64Array.from(readings, ({ offset }, column) =>
        variables[column]!.reduce((sum, { sign, variable }) => {
          const amount = kept === undefined ? amountOf(model, variable) : (kept[variable.id] ?? 0);
          return sum + sign * amount;
        }, offset),
      ),
    rowDuals: () => Float64Array.from(rows, (halves) => halves.reduce((sum, half) => sum + dualOf(model, half), 0)),
  };
}

function readColumn({ columns }: LinearModel, column: number): Reading {
  const lower = columns.lower[column]!;
  const upper = columns.upper[column]!;
  if (lower > -Infinity) return { offset: lower, room: upper - lower, signs: lower === upper ? [] : [1] };
  if (upper < Infinity) return { offset: upper, room: Infinity, signs: [-1] };
  // The engine's own unrestricted variables may leave it with a wrong step: its ratio test lets them bound the others.
  return { offset: 0, room: Infinity, signs: [1, -1] };
}

/** 1 for columns whose upper limit a row sees to (as in packing), so that the table needs no row for it. */
function columnsBoundByRow(model: LinearModel, readings: readonly Reading[], offsetOfRow: Float64Array): Uint8Array {
  const room = model.rowUpper.map((upper, row) => upper - offsetOfRow[row]!);
  // A row in which something may take away bounds nothing.
  forEntries(model, (row, column, value) => {
    if (readings[column]!.signs.some((sign) => sign * value < 0)) room[row] = Infinity;
  });
  const bound = new Uint8Array(readings.length);
  forEntries(model, (row, column, value) => {
    if (value > 0 && room[row]! / value <= readings[column]!.room) bound[column] = 1;
  });
  return bound;
}

function forEntries({ columns }: LinearModel, visit: (row: number, column: number, value: number) => void): void {
  for (let column = 0; column < columns.cost.length; column++)
    for (let entry = columns.starts[column]!; entry < columns.starts[column + 1]!; entry++)
      visit(columns.rows[entry]!, column, columns.values[entry]!);
}

/** From the table itself: the engine rounds what it tells. */
function amountOf({ tableau }: EngineModel, variable: Variable): number {
  const row = tableau.rowByVarIndex[variable.index]!;
  return row === -1 ? 0 : tableau.matrix[row * tableau.width + tableau.rhsColumn]!;
}

/** The cost row under a slack that is 0 holds the dual of its row, without its sign for a lower limit. */
function dualOf({ tableau }: EngineModel, { slack, isUpperBound }: Row): number {
  const column = tableau.colByVarIndex[slack.index]!;
  if (column === -1) return 0;
  const dual = tableau.matrix[tableau.costRowIndex * tableau.width + column]!;
  return isUpperBound ? dual : -dual;
}
