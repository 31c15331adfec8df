import type { Columns, LinearModel } from "./model.ts";

export interface SolveOptions {
  /** An answer found under a time limit may differ from run to run. */
  readonly timeLimitS?: number;
  /** Nodes of the search for whole numbers: a limit that gives the same answer on every run. */
  readonly maxNodes?: number;
  /** How much dearer than the bound a whole-number answer may be and still count as optimal, as a share of its cost. 0 if not given. */
  readonly gap?: number;
  /** Values of all columns to start a search for whole numbers from. */
  readonly start?: Float64Array;
  /** Let fractions do where the model asks for whole numbers: then there are duals. */
  readonly relaxed?: boolean;
}

export interface Duals {
  /** What one unit more of each row's limit adds to the objective: not below 0 for a lower limit, not above 0 for an upper one. */
  readonly rowDuals: Float64Array;
  /** cost - rowDuals · column. */
  readonly reducedCosts: Float64Array;
}

export interface LinearSolution {
  /** Optimal: nothing is cheaper, or by no more than the gap. Feasible: it holds, but a limit ended the search. */
  readonly status: "optimal" | "feasible";
  readonly objective: number;
  /** Nothing is cheaper than this; -Infinity if nobody knows. */
  readonly bound: number;
  readonly values: Float64Array;
  /** Of an optimal answer where fractions will do. */
  readonly duals: Duals | null;
}

/** `stopped`: a limit, or numbers that the engine cannot handle, before any answer. `wrong`: the engine's answer failed the check, and is not told. */
export type LinearOutcome =
  | LinearSolution
  | { readonly status: "infeasible" | "unbounded" | "stopped" }
  | { readonly status: "wrong"; readonly faults: readonly string[] };

/** A model to which columns are added between solves. */
export interface OpenModel {
  addColumns(columns: Columns): void;
  solve(options?: SolveOptions): LinearOutcome;
  /** Nothing may be asked of it afterwards. */
  dispose(): void;
}

/**
 * An engine for linear models. What it promises, and `checkAnswer` sees to: an answer keeps every row, limit and whole number, and an optimal
 * one is proven by its duals or its bound. What it does not promise: a proof of `infeasible` and `unbounded`.
 */
export interface LinearSolver {
  solve(model: LinearModel, options?: SolveOptions): LinearOutcome;
  open(model: LinearModel): OpenModel;
}
