import { answerWith, type Find, type Found, unboundedOrInfeasible } from "../solver/linear/answer.ts";
import { appendColumns, hasIntegers, type LinearModel, relaxed } from "../solver/linear/model.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import { buildTable, type EngineModel } from "./fullTable.ts";

/** Steps of one simplex, as a multiple of rows and columns, after which it is taken to go round in circles. Our choice: a simplex takes two or three. */
const stepsPerLine = 100;

/**
 * A simplex on a full table in plain JavaScript, with branch and bound. It takes no start, knows no gap and counts no
 * nodes: it searches for the cheapest answer until the limit of time. Every solve starts from nothing.
 */
export const javascriptLpSolver: LinearSolver = {
  solve: (model, options = {}) => answerWith(find, model, options),
  open(model) {
    let current = model;
    return {
      addColumns(columns) {
        current = appendColumns(current, columns);
      },
      solve: (options = {}) => answerWith(find, current, options),
      dispose() {},
    };
  },
};

const find: Find = (model, options) => {
  const endMs = Date.now() + (options.timeLimitS ?? Infinity) * 1000;
  if (!hasIntegers(model)) return findFractions(model, endMs);
  const root = findFractions(relaxed(model), endMs);
  // Its search for whole numbers would not end where the root is unbounded.
  if (root.status === "unbounded") return unboundedOrInfeasible(find, model, options);
  return root.status === "optimal" ? findWhole(model, endMs) : root;
};

function findFractions(model: LinearModel, endMs: number): Found {
  const table = buildTable(model);
  if (table === null) return { status: "infeasible" };
  const solution = solveUntil(table.model, endMs);
  if (solution === null) return { status: "stopped" };
  if (!solution.feasible) return { status: "infeasible" };
  if (!solution.bounded) return { status: "unbounded" };
  return { status: "optimal", values: table.values(), bound: -Infinity, rowDuals: table.rowDuals() };
}

function findWhole(model: LinearModel, endMs: number): Found {
  const table = buildTable(model);
  if (table === null) return { status: "infeasible" };
  table.model.keep_solutions = true;
  const solution = solveUntil(table.model, endMs);
  if (solution === null) {
    const best = table.model.solutions?.at(-1);
    if (best === undefined) return { status: "stopped" };
    return { status: "feasible", values: table.values(best), bound: -Infinity, rowDuals: null };
  }
  // What it calls feasible may be the last node that it looked at, fractions and all.
  if (!table.model.tableau.__isIntegral) return { status: solution.feasible ? "stopped" : "infeasible" };
  const bound = solution.evaluation + table.offsetCost;
  return { status: "optimal", values: table.values(), bound, rowDuals: null };
}

/**
 * The engine's solution, or null where it did not come to its end. Left alone it looks at the clock between nodes only, may go round in circles
 * for ever, and takes a circle that it has seen for a proof that there is no answer: so every step asks.
 */
function solveUntil(model: EngineModel, endMs: number) {
  const { tableau } = model;
  const { simplex, pivot } = tableau;
  const stop = new Error("stop");
  let steps = 0;
  tableau.simplex = () => {
    if (Date.now() >= endMs) throw stop;
    steps = 0;
    return simplex.call(tableau);
  };
  tableau.pivot = (row, column) => {
    if (++steps > stepsPerLine * (tableau.width + tableau.height) || Date.now() >= endMs) throw stop;
    pivot.call(tableau, row, column);
  };
  try {
    const solution = model.solve();
    return model.messages.length === 0 ? solution : null;
  } catch (error) {
    if (error === stop) return null;
    throw error;
  }
}
