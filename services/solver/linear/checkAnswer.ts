import { type Activity, limitTolerance, rowActivity } from "./activity.ts";
import { dualFaults } from "./checkDuals.ts";
import { hasIntegers, type LinearModel } from "./model.ts";
import type { LinearOutcome, LinearSolution, SolveOptions } from "./solver.ts";

type Asked = Pick<SolveOptions, "gap" | "start">;

/** How far a whole number may be missed: what HiGHS allows itself. */
export const integerTolerance = 1e-6;

/** How far two ways to the same objective may differ, as a share of the costs without their signs. Our choice. */
const objectiveTolerance = 1e-6;

/**
 * What is wrong with an answer, judged from the model alone; empty if nothing is. A claim that there is no answer is only refuted where that is
 * cheap. The answer of a relaxed model is held against the relaxed model.
 */
export function checkAnswer(model: LinearModel, outcome: LinearOutcome, options: Asked = {}): readonly string[] {
  switch (outcome.status) {
    case "optimal":
    case "feasible":
      return solutionFaults(model, outcome, options);
    case "infeasible":
      return [origin(model), options.start].some((values) => values !== undefined && holds(model, values))
        ? ["said to be infeasible, yet the origin or the start holds"]
        : [];
    case "unbounded":
      return Number.isFinite(cheapest(model)) ? ["said to be unbounded, yet every column that costs is bounded"] : [];
    case "stopped":
    case "wrong":
      return [];
  }
}

function solutionFaults(model: LinearModel, solution: LinearSolution, options: Asked): readonly string[] {
  const { status, values, objective, bound, duals } = solution;
  if (values.length !== model.columns.cost.length) return [`${values.length} values`];
  const activity = rowActivity(model, values);
  const faults = [...primalFaults(model, values, activity)];
  const { sum, scale } = costOf(model, values);
  const tolerance = objectiveTolerance * scale;
  if (!(Math.abs(objective - sum) <= tolerance)) faults.push(`objective ${objective}, the values cost ${sum}`);
  if (!(bound <= objective + tolerance)) faults.push(`bound ${bound} over the objective ${objective}`);
  const gap = Math.max(tolerance, (options.gap ?? 0) * Math.abs(objective));
  if (status === "optimal" && !(objective - bound <= gap + tolerance)) faults.push(`not proven: bound ${bound}`);
  if (duals !== null) faults.push(...dualFaults(model, values, activity, duals, tolerance));
  else if (status === "optimal" && !hasIntegers(model)) faults.push("optimal without duals");
  const { start } = options;
  if (start !== undefined && holds(model, start) && costOf(model, start).sum < bound - tolerance)
    faults.push(`bound ${bound}, yet the start costs less`);
  return faults;
}

function primalFaults({ rowLower, rowUpper, columns }: LinearModel, values: Float64Array, activity: Activity) {
  const faults: string[] = [];
  const within = (what: string, index: number, value: number, lower: number, upper: number, scale: number) => {
    const tolerance = limitTolerance * scale;
    // Written so that what is no number fails.
    if (value >= lower - tolerance && value <= upper + tolerance) return;
    faults.push(`${what} ${index} is ${value}, not from ${lower} to ${upper}`);
  };
  values.forEach((value, column) => {
    within("column", column, value, columns.lower[column]!, columns.upper[column]!, 1);
    if (columns.integer[column] === 1 && Math.abs(value - Math.round(value)) > integerTolerance)
      faults.push(`column ${column} is ${value}, no whole number`);
  });
  activity.sum.forEach((sum, row) => {
    within("row", row, sum, rowLower[row]!, rowUpper[row]!, activity.scale[row]!);
  });
  return faults;
}

function holds(model: LinearModel, values: Float64Array): boolean {
  return primalFaults(model, values, rowActivity(model, values)).length === 0;
}

/** What the values cost, and the sum of all costs without their signs, at least 1. */
function costOf({ columns }: LinearModel, values: Float64Array): { sum: number; scale: number } {
  let sum = 0;
  let scale = 1;
  for (let column = 0; column < values.length; column++) {
    const cost = columns.cost[column]! * values[column]!;
    sum += cost;
    scale += Math.abs(cost);
  }
  return { sum, scale };
}

/** The point nearest to nothing that the columns' own limits allow. */
function origin({ columns }: LinearModel): Float64Array {
  return columns.lower.map((lower, column) => Math.max(lower, Math.min(0, columns.upper[column]!)));
}

/** What the columns cost at least by their own limits. */
function cheapest({ columns }: LinearModel): number {
  return columns.cost.reduce((sum, cost, column) => {
    if (cost === 0) return sum;
    return sum + cost * (cost > 0 ? columns.lower[column]! : columns.upper[column]!);
  }, 0);
}
