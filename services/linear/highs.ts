import library, { type Highs, type Model, type SparseMatrix } from "highs";
import { answerWith, type Find, type Found, unboundedOrInfeasible } from "../solver/linear/answer.ts";
import { appendColumns, type Columns, hasIntegers, type LinearModel } from "../solver/linear/model.ts";
import type { LinearSolver, OpenModel, SolveOptions } from "../solver/linear/solver.ts";

/** The package tells its types as CommonJS and runs as a module, so its default export has to be dug out of the type. */
const loadEngine = library as unknown as typeof library.default;

/** The engine takes no infinity for a limit of time. */
const foreverS = 1e9;

/**
 * HiGHS (Huangfu & Hall 2018, "Parallelizing the dual revised simplex method", Mathematical Programming Computation 10) in WebAssembly, one thread, at
 * most 2 GB. It solves while the caller waits; only loading is asynchronous. When it runs out of memory it throws, and has to be loaded anew.
 */
export async function loadHighs(): Promise<LinearSolver> {
  const highs = await loadEngine();
  const findOnce: Find = (model, options) =>
    highs.withModel((instance) => {
      pass(instance, model);
      return run(highs, instance, model, options, findOnce);
    });
  return {
    solve: (model, options = {}) => answerWith(findOnce, model, options),
    open: (model) => openModel(highs, model, findOnce),
  };
}

/** Linear programs are solved on from the last basis; a search for whole numbers starts afresh, for it would spoil the basis. */
function openModel(highs: Highs, model: LinearModel, findOnce: Find): OpenModel {
  let current = model;
  let warm: Model | null = null;
  let isDisposed = false;
  const findOn: Find = (asked, options) => {
    if (isDisposed) throw new Error("This model has been disposed of.");
    if (hasIntegers(asked)) return findOnce(asked, options);
    if (warm === null) {
      warm = highs.createModel();
      pass(warm, asked);
    }
    return run(highs, warm, asked, options, findOnce);
  };
  return {
    addColumns(columns) {
      current = appendColumns(current, columns);
      const { cost, lower, upper } = columns;
      warm?.addCols({ cost, lower, upper, matrix: matrixOf(columns, current.rowLower.length) });
    },
    solve: (options = {}) => answerWith(findOn, current, options),
    dispose() {
      isDisposed = true;
      warm?.dispose();
    },
  };
}

function pass(instance: Model, { rowLower, rowUpper, columns }: LinearModel): void {
  instance.options.set("output_flag", false);
  instance.passModel({
    numCols: columns.cost.length,
    numRows: rowLower.length,
    colCost: columns.cost,
    colLower: columns.lower,
    colUpper: columns.upper,
    rowLower,
    rowUpper,
    matrix: matrixOf(columns, rowLower.length),
    ...(columns.integer.includes(1) ? { integrality: Int32Array.from(columns.integer) } : {}),
  });
}

function matrixOf(columns: Columns, numRows: number): SparseMatrix {
  const { cost, starts, rows: indices, values } = columns;
  return { format: "csc", numRows, numCols: cost.length, starts, indices, values };
}

function run({ constants }: Highs, instance: Model, model: LinearModel, options: SolveOptions, findOnce: Find): Found {
  const isWhole = hasIntegers(model);
  instance.options.set("time_limit", options.timeLimitS ?? foreverS);
  if (isWhole) {
    instance.options.set("mip_rel_gap", options.gap ?? 0);
    if (options.maxNodes !== undefined) instance.options.set("mip_max_nodes", options.maxNodes);
    if (options.start !== undefined) instance.setSolution({ colValue: options.start });
  }
  // The limit of time holds for all runs of an instance together.
  instance.zeroAllClocks();
  // A model that the engine fails at is no bug of its caller.
  if (instance.raw.run().status === constants.status.error) return { status: "stopped" };
  const modelStatus = instance.getModelStatus();
  const is = constants.modelStatus;
  if (modelStatus === is.infeasible) return { status: "infeasible" };
  // The root of a search for whole numbers may be unbounded and no whole number in it.
  if (modelStatus === is.unboundedOrInfeasible || (modelStatus === is.unbounded && isWhole))
    return unboundedOrInfeasible(findOnce, model, options);
  if (modelStatus === is.unbounded) return { status: "unbounded" };
  if (instance.info.get("primal_solution_status") !== constants.solutionStatus.feasible) return { status: "stopped" };
  const { colValue, rowDual } = instance.getSolution();
  const status = modelStatus === is.optimal ? "optimal" : "feasible";
  const bound = isWhole ? Number(instance.info.get("mip_dual_bound")) : -Infinity;
  return { status, values: colValue, bound, rowDuals: isWhole ? null : rowDual };
}
