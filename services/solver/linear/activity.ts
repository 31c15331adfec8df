import type { LinearModel } from "./model.ts";

/**
 * How far a value may miss a limit and still count as on it, as a share of the row's greatest term (absolute up to 1). Our choice: ten times what
 * HiGHS allows itself (1e-7), because its tolerance holds for the scaled model.
 */
export const limitTolerance = 1e-6;

export interface Activity {
  /** A x */
  readonly sum: Float64Array;
  /** The greatest term of each row without its sign, at least 1. */
  readonly scale: Float64Array;
}

export function rowActivity({ rowLower, columns }: LinearModel, values: Float64Array): Activity {
  const sum = new Float64Array(rowLower.length);
  const scale = new Float64Array(rowLower.length).fill(1);
  for (let column = 0; column < values.length; column++) {
    for (let entry = columns.starts[column]!; entry < columns.starts[column + 1]!; entry++) {
      const row = columns.rows[entry]!;
      const term = columns.values[entry]! * values[column]!;
      sum[row]! += term;
      scale[row] = Math.max(scale[row]!, Math.abs(term));
    }
  }
  return { sum, scale };
}
