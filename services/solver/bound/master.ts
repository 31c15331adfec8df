import { buildColumns, buildModel, type ColumnDraft } from "../linear/model.ts";
import type { LinearSolver, OpenModel } from "../linear/solver.ts";
import type { Column } from "./column.ts";
import type { Prices, Relaxation } from "./relaxation.ts";
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
    const key = `${column.outing} ${column.blocks.join(" ")}`;
    if (master.known.has(key)) return false;
    master.known.add(key);
    return true;
  });
  if (added.length === 0) return 0;
  master.columns.push(...added);
  master.model.addColumns(buildColumns(added.map((column) => draftOf(relaxation, master.triples, column))));
  return added.length;
}

function draftOf(
  { problem, outings, dutyLimits, workLimits, limits: allLimits }: Relaxation,
  triples: readonly Triple[],
  { outing, blocks, cents, dutyMin }: Column,
): ColumnDraft {
  const { open, slots } = problem;
  const { slot, limits, amounts } = outings[outing]!;
  const times = new Map<number, number>();
  for (const block of blocks) {
    const row = open.indexOf(block);
    times.set(row, (times.get(row) ?? 0) + 1);
  }
  const firstLimit = open.length + slots.length;
  const taken = new Map<number, number>();
  for (const block of blocks) {
    for (const work of workLimits[slot]!) {
      if (work.block === block)
        taken.set(firstLimit + work.limit, (taken.get(firstLimit + work.limit) ?? 0) + work.amount);
    }
  }
  return {
    cost: cents,
    entries: [
      ...times,
      [open.length + slot, 1],
      ...taken,
      ...limits.map((limit, at) => [firstLimit + limit, amounts[at]!] as const),
      ...dutyLimits[slot]!.map((limit) => [firstLimit + limit, dutyMin] as const),
      ...triples.flatMap((triple, index) => {
        const count = countOf(triple, blocks);
        return count === 0 ? [] : [[firstLimit + allLimits.length + index, count] as const];
      }),
    ],
  };
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
