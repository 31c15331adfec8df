import { type Activity, limitTolerance } from "./activity.ts";
import type { Columns, LinearModel } from "./model.ts";
import type { Duals } from "./solver.ts";

/** A dual or reduced cost up to this share of what it was summed from is taken as 0. Our choice: ten times what HiGHS allows itself. */
const dualTolerance = 1e-6;

/**
 * Do the duals prove that the values are the cheapest? Each has to lean on a limit that is there. The distances to those limits, weighted with
 * the duals, are what the two objectives differ by (weak duality; any textbook, e.g. Chvátal 1983, "Linear Programming", ch. 5).
 */
export function dualFaults(
  { rowLower, rowUpper, columns }: LinearModel,
  values: Float64Array,
  activity: Activity,
  { rowDuals, reducedCosts }: Duals,
  objectiveTolerance: number,
): readonly string[] {
  if (rowDuals.length !== rowLower.length || reducedCosts.length !== columns.cost.length)
    return ["duals of another size"];
  const faults: string[] = [];
  let gap = 0;
  const lean = (
    what: string,
    index: number,
    dual: number,
    value: number,
    lower: number,
    upper: number,
    scale: number,
  ) => {
    const limit = dual > 0 ? lower : upper;
    if (!Number.isFinite(limit) || !Number.isFinite(dual))
      faults.push(`${what} ${index} has the dual ${dual}, and the limit ${limit} on that side`);
    else if (Math.abs(value - limit) > limitTolerance * scale) gap += dual * (value - limit);
  };
  const greatestDual = rowDuals.reduce((greatest, dual) => Math.max(greatest, Math.abs(dual) || 0), 1);
  rowDuals.forEach((dual, row) => {
    if (Math.abs(dual) <= dualTolerance * greatestDual) return;
    lean("row", row, dual, activity.sum[row]!, rowLower[row]!, rowUpper[row]!, activity.scale[row]!);
  });
  reducedCosts.forEach((told, column) => {
    const { dual, scale } = reducedCost(columns, column, rowDuals);
    if (!(Math.abs(dual - told) <= dualTolerance * scale))
      faults.push(`column ${column} has the reduced cost ${told}, by the row duals ${dual}`);
    if (Math.abs(dual) <= dualTolerance * scale) return;
    lean("column", column, dual, values[column]!, columns.lower[column]!, columns.upper[column]!, 1);
  });
  if (!(Math.abs(gap) <= objectiveTolerance)) faults.push(`the duals leave a gap of ${gap}`);
  return faults;
}

/** cost - rowDuals · column, and the greatest term of that sum without its sign, at least 1. */
export function reducedCost(columns: Columns, column: number, rowDuals: Float64Array) {
  let dual = columns.cost[column]!;
  let scale = Math.max(1, Math.abs(dual));
  for (let entry = columns.starts[column]!; entry < columns.starts[column + 1]!; entry++) {
    const term = rowDuals[columns.rows[entry]!]! * columns.values[entry]!;
    dual -= term;
    scale = Math.max(scale, Math.abs(term));
  }
  return { dual, scale };
}
