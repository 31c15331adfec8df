import { limitTolerance } from "./activity.ts";
import { checkAnswer, integerTolerance } from "./checkAnswer.ts";
import { reducedCost } from "./checkDuals.ts";
import { assertModel, hasIntegers, type LinearModel, relaxed, withoutCosts, withWholeLimits } from "./model.ts";
import type { LinearOutcome, SolveOptions } from "./solver.ts";

/** What an engine says: its word for an answer, or for none. */
export type Found =
  | {
      readonly status: "optimal" | "feasible";
      readonly values: Float64Array;
      /** Nothing is cheaper than this, as far as the engine knows. */
      readonly bound: number;
      /** Of an optimal answer where fractions will do. */
      readonly rowDuals: Float64Array | null;
    }
  | { readonly status: "infeasible" | "unbounded" | "stopped" };

/** Finds an answer to a model that has columns and does not contradict itself. */
export type Find = (model: LinearModel, options: SolveOptions) => Found;

/** The one door from any engine to the caller: noise of the engine is rounded off, and an answer that fails the check stays behind. */
export function answerWith(find: Find, model: LinearModel, options: SolveOptions): LinearOutcome {
  assertModel(model);
  const columns = model.columns.cost.length;
  if (options.start !== undefined && options.start.length !== columns)
    throw new Error(`A start of ${options.start.length} values for ${columns} columns.`);
  const asked = options.relaxed ? relaxed(model) : withWholeLimits(model);
  const outcome = toOutcome(asked, columns === 0 ? withoutColumns(asked) : find(asked, options));
  const faults = checkAnswer(asked, outcome, options);
  return faults.length === 0 ? outcome : { status: "wrong", faults };
}

/** For an engine that knows only that there is no cheapest answer: if there is any answer at all, they get cheaper without end. */
export function unboundedOrInfeasible(find: Find, model: LinearModel, options: SolveOptions): Found {
  const { status } = find(withoutCosts(model), options);
  if (status === "optimal" || status === "feasible") return { status: "unbounded" };
  return { status: status === "infeasible" ? "infeasible" : "stopped" };
}

function withoutColumns({ rowLower, rowUpper }: LinearModel): Found {
  const holds = rowLower.every((lower, row) => lower <= 0 && rowUpper[row]! >= 0);
  if (!holds) return { status: "infeasible" };
  return { status: "optimal", values: new Float64Array(), bound: 0, rowDuals: new Float64Array(rowLower.length) };
}

function toOutcome(model: LinearModel, found: Found): LinearOutcome {
  if (found.status !== "optimal" && found.status !== "feasible") return { status: found.status };
  const { columns } = model;
  const values = found.values.map((value, column) => {
    const rounded = Math.round(value);
    const isNoise = columns.integer[column] === 1 && Math.abs(value - rounded) <= integerTolerance;
    return onLimit(isNoise ? rounded : value, columns.lower[column]!, columns.upper[column]!);
  });
  const objective = values.reduce((sum, value, column) => sum + value * columns.cost[column]!, 0);
  const { status, rowDuals } = found;
  const isProvenByDuals = status === "optimal" && !hasIntegers(model) && rowDuals !== null;
  return {
    status,
    objective,
    bound: isProvenByDuals ? objective : found.bound,
    values,
    duals: isProvenByDuals
      ? { rowDuals, reducedCosts: columns.cost.map((_, column) => reducedCost(columns, column, rowDuals).dual) }
      : null,
  };
}

/** A value that misses a limit by no more than the tolerance is meant to be on it. */
function onLimit(value: number, lower: number, upper: number): number {
  if (value < lower && value >= lower - limitTolerance) return lower;
  if (value > upper && value <= upper + limitTolerance) return upper;
  // No negative nothing.
  return value + 0;
}
