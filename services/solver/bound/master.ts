import { buildColumns, buildModel, type ColumnDraft } from "../linear/model.ts";
import type { LinearSolver, OpenModel } from "../linear/solver.ts";
import type { Column } from "./column.ts";
import { type Prices, takenOf } from "./prices.ts";
import type { Relaxation } from "./relaxation.ts";
import { countOf, type Triple } from "./triples.ts";

/** The linear program over the routes known so far: each open block is served or pays its value, each slot goes out at most once, no limit is passed. */
export interface Master {
  readonly model: OpenModel;
  readonly known: Set<string>;
  readonly columns: Column[];
  readonly triples: readonly Triple[];
}

export function openMaster(relaxation: Relaxation, solver: LinearSolver, triples: readonly Triple[]): Master {
  const { problem, limits } = relaxation;
  const { open, slots, routes } = problem;
  const model = buildModel(
    [
      ...open.map(() => ({ lower: 1 })),
      ...slots.map(() => ({ upper: 1 })),
      ...limits.map(({ capacity }) => ({ upper: capacity })),
      ...triples.map(() => ({ upper: 1 })),
    ],
    open.map((block, row) => ({ cost: routes.valueCents[block]!, upper: 1, entries: [[row, 1]] })),
  );
  return { model: solver.open(model), known: new Set(), columns: [], triples };
}

/** Adds those that are not there yet; gives how many. */
export function addRoutes(master: Master, relaxation: Relaxation, found: readonly Column[]): number {
  const added = found.filter((column) => {
    if (isKnown(master, column)) return false;
    master.known.add(keyOf(column));
    return true;
  });
  if (added.length === 0) return 0;
  master.columns.push(...added);
  master.model.addColumns(buildColumns(added.map((column) => draftOf(relaxation, master.triples, column))));
  return added.length;
}

export function isKnown({ known }: Master, column: Column): boolean {
  return known.has(keyOf(column));
}

function keyOf({ outing, blocks }: Column): string {
  return `${outing} ${blocks.join(" ")}`;
}

function draftOf(relaxation: Relaxation, triples: readonly Triple[], column: Column): ColumnDraft {
  const { open, slots } = relaxation.problem;
  const firstLimit = open.length + slots.length;
  const entries = new Map<number, number>();
  const add = (row: number, amount: number) => entries.set(row, (entries.get(row) ?? 0) + amount);
  for (const block of column.blocks) add(relaxation.rowOfBlock[block]!, 1);
  add(open.length + relaxation.outings[column.outing]!.slot, 1);
  takenOf(relaxation, column, (limit, amount) => add(firstLimit + limit, amount));
  triples.forEach((triple, at) => {
    const count = countOf(triple, column.blocks);
    if (count > 0) add(firstLimit + relaxation.limits.length + at, count);
  });
  return { cost: column.cents, entries: [...entries] };
}

/** Prices by the duals of an optimal answer; null if the engine has none. */
export function solveMaster(
  master: Master,
  relaxation: Relaxation,
): { prices: Prices; cents: number; shares: Float64Array } | null {
  const { problem, limits } = relaxation;
  const outcome = master.model.solve();
  if (outcome.status !== "optimal" || outcome.duals === null) return null;
  const { rowDuals } = outcome.duals;
  const block = new Float64Array(problem.blocks.length);
  problem.open.forEach((index, row) => {
    block[index] = Math.min(problem.routes.valueCents[index]!, Math.max(0, rowDuals[row]!));
  });
  const firstLimit = problem.open.length + problem.slots.length;
  const limit = Float64Array.from(limits, (_, at) => Math.max(0, -rowDuals[firstLimit + at]!));
  const firstTriple = firstLimit + limits.length;
  const triple = Float64Array.from(master.triples, (_, at) => Math.max(0, -rowDuals[firstTriple + at]!));
  return {
    prices: { block, limit, triple },
    cents: relaxation.lostCents + outcome.objective,
    shares: outcome.values.subarray(problem.open.length),
  };
}
