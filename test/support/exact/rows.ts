import { buildModel, type LinearModel } from "../../../services/solver/linear/model.ts";

type Term = readonly [column: number, value: number];

/** A linear model written row by row, all columns whole numbers from 0 to 1, all rows upper limits. */
export interface Rows {
  /** The index of a new column. */
  column(costCents: number): number;
  atMost(upper: number, terms: readonly Term[]): void;
  model(): LinearModel;
}

export function createRows(): Rows {
  const costs: number[] = [];
  const entries: [row: number, value: number][][] = [];
  const uppers: number[] = [];
  return {
    column: (costCents) => {
      entries.push([]);
      return costs.push(costCents) - 1;
    },
    atMost: (upper, terms) => {
      const row = uppers.push(upper) - 1;
      for (const [column, value] of terms) entries[column]!.push([row, value]);
    },
    model: () =>
      buildModel(
        uppers.map((upper) => ({ upper })),
        costs.map((cost, column) => ({ cost, upper: 1, integer: true, entries: entries[column]! })),
      ),
  };
}
