import type { LinearSolver } from "../linear/solver.ts";
import type { Column } from "./column.ts";
import { completionOf } from "./completion.ts";
import { createLabelPool, type LabelPool, searchRoutes } from "./labels.ts";
import { addRoutes, openMaster, solveMaster } from "./master.ts";
import { isRemembered, learnCycles } from "./nearSets.ts";
import { dutyPrice, type Prices, type Relaxation, taskOf } from "./relaxation.ts";
import type { FoundRoute, Task, TripleBits } from "./task.ts";
import { brokenTriples, countOf, type Triple } from "./triples.ts";

interface Priced {
  readonly columns: Column[];
  readonly boundCents: number;
}

const mostTriples = 64;
const fineWidth = 8;

export function generate(
  relaxation: Relaxation,
  solver: LinearSolver,
  seeds: readonly Column[],
  shouldStop: () => boolean,
) {
  let triples: Triple[] = [];
  let master = openMaster(relaxation, solver, triples);
  addRoutes(master, relaxation, seeds);
  const pool = createLabelPool();
  let best = Number.NEGATIVE_INFINITY;
  let roundBest = best;
  let centre: Prices | null = null;
  const slots = relaxation.outingsOfSlot.map((_, slot) => slot);
  let next = 0;
  let alpha = 0.6;
  for (let _round = 0; !shouldStop(); _round++) {
    const lp = solveMaster(master, relaxation)!;
    if (lp.cents - roundBest < 1e-3 * lp.cents) {
      const hasCycles = master.columns.some(
        (c, at) => lp.shares[at]! > 0.01 && new Set(c.blocks).size < c.blocks.length,
      );
      const more = hasCycles && triples.length === 0 ? [] : brokenTriples(master.columns, lp.shares, triples, 12);
      const kept = triples.filter((_, at) => lp.prices.triple[at]! > 0);
      let learned = 0;
      master.columns.forEach((c, at) => {
        if (lp.shares[at]! > 0.01) learned += learnCycles(relaxation.near, c.blocks);
      });
      if ((more.length === 0 && learned === 0) || kept.length + more.length > mostTriples) break;
      triples = [...kept, ...more];
      const columns = master.columns.filter(
        (c) => reduced(relaxation, master.triples, c, lp.prices) < 3000 && isRemembered(relaxation.near, c.blocks),
      );
      master.model.dispose();
      master = openMaster(relaxation, solver, triples);
      addRoutes(master, relaxation, columns);
      roundBest = Number.NEGATIVE_INFINITY;
      const tripleCentre = new Float64Array(triples.length);
      kept.forEach((t, at) => {
        tripleCentre[at] = centre === null ? 0 : centre.triple[triples0.indexOf(t)]!;
      });
      if (centre !== null)
        centre = { block: (centre as Prices).block, limit: (centre as Prices).limit, triple: tripleCentre };
      triples0 = triples;
      continue;
    }
    const at: Prices = centre === null ? lp.prices : mix(centre, lp.prices, alpha);
    const isNew = (c: Column) =>
      reduced(relaxation, triples, c, lp.prices) < -1 && !master.known.has(`${c.outing} ${c.blocks.join(" ")}`);
    const found: Column[] = [];
    let tried = 0;
    while (tried < slots.length && found.length < 40) {
      found.push(...price(relaxation, at, triples, [slots[next]!], false, pool).columns.filter(isNew));
      next = (next + 7) % slots.length;
      tried++;
    }
    let exact = false;
    if (found.length < 5) {
      const priced = price(relaxation, at, triples, slots, true, pool);
      exact = true;
      if (priced.boundCents > roundBest) {
        roundBest = priced.boundCents;
        best = Math.max(best, roundBest);
        centre = at;
      }
      found.push(...priced.columns.filter(isNew));
    }
    const added = addRoutes(master, relaxation, found);
    alpha = exact && added === 0 ? 0 : 0.6;
  }
  return { best, master };
}
let triples0: Triple[] = [];

export function mix(a: Prices, b: Prices, share: number): Prices {
  const both = (x: Float64Array, y: Float64Array) => x.map((value, i) => share * value + (1 - share) * y[i]!);
  return { block: both(a.block, b.block), limit: both(a.limit, b.limit), triple: both(a.triple, b.triple) };
}

export function reduced(
  { outings, dutyLimits, limits, workLimits }: Relaxation,
  triples: readonly Triple[],
  column: Column,
  prices: Prices,
): number {
  const { slot, limits: uses, amounts } = outings[column.outing]!;
  void limits;
  let tripleCents = 0;
  triples.forEach((triple, at) => {
    if (prices.triple[at]! > 0) tripleCents += prices.triple[at]! * countOf(triple, column.blocks);
  });
  let cents = tripleCents + column.cents + column.dutyMin * dutyPrice(dutyLimits[slot]!, prices);
  for (const block of column.blocks) {
    cents -= prices.block[block]!;
    for (const w of workLimits[slot]!) if (w.block === block) cents += w.amount * prices.limit[w.limit]!;
  }
  uses.forEach((limit, at) => {
    cents += amounts[at]! * prices.limit[limit]!;
  });
  return cents;
}

export function price(
  relaxation: Relaxation,
  prices: Prices,
  triples: readonly Triple[],
  slots: readonly number[],
  exact: boolean,
  pool: LabelPool,
): Priced {
  const columns: Column[] = [];
  let boundCents = relaxation.lostCents;
  for (const cents of prices.block) boundCents += cents;
  relaxation.limits.forEach(({ capacity }, limit) => {
    boundCents -= capacity * prices.limit[limit]!;
  });
  for (const cents of prices.triple) boundCents -= cents;
  const bits = bitsOf(relaxation, triples, prices);
  for (const slot of slots) {
    const outings = relaxation.outingsOfSlot[slot]!;
    let least = 0;
    const tasks = outings.map((outing) => {
      const task = taskOf(relaxation, outing, prices, bits);
      const completion = completionOf(task, 3, task.wageCentsPerMin);
      return { outing, task, completion, atLeast: completion.leastCents };
    });
    tasks.sort((a, b) => a.atLeast - b.atLeast);
    for (const { outing, task, completion, atLeast } of tasks) {
      if (atLeast >= (exact ? least : -1)) {
        continue;
      }
      if (exact) {
        const quick = searchRoutes(task, completion, null, pool, {
          exact: false,
          belowCents: least,
          mostRoutes: 4,
          mostLabels: 2e6,
        });
        for (const route of quick.routes) {
          least = Math.min(least, route.reducedCents);
          columns.push(toColumn(relaxation, outing, task, route, prices, triples));
        }
        if (atLeast >= least) continue;
      }
      const fine = exact ? completionOf(task, fineWidth, task.wageCentsPerMin) : completion;
      const over =
        exact && task.day.span - 1 > task.standardMin
          ? completionOf(task, fineWidth, task.wageCentsPerMin + task.overtimeCentsPerMin)
          : null;
      if (exact && fine.leastCents >= least) continue;
      const found = searchRoutes(task, fine, over, pool, {
        exact,
        belowCents: exact ? least : -1,
        mostRoutes: 4,
        mostLabels: 2e6,
      });
      least = Math.min(least, found.leastCents);
      for (const route of found.routes) columns.push(toColumn(relaxation, outing, task, route, prices, triples));
    }
    boundCents += least;
  }
  return { columns, boundCents };
}

function toColumn(
  relaxation: Relaxation,
  outing: number,
  task: Task,
  route: FoundRoute,
  prices: Prices,
  triples: readonly Triple[],
): Column {
  const { slot } = relaxation.outings[outing]!;
  const blocks = route.stops.map((k) => task.day.block[k]!);
  let cents = route.reducedCents - task.fixedCents - route.dutyMin * dutyPrice(relaxation.dutyLimits[slot]!, prices);
  for (const block of blocks) cents += task.prizeCents[block]!;
  triples.forEach((triple, at) => {
    cents -= prices.triple[at]! * countOf(triple, blocks);
  });
  return { outing, blocks, cents, dutyMin: route.dutyMin };
}

function bitsOf({ problem }: Relaxation, triples: readonly Triple[], prices: Prices): TripleBits {
  const low = new Int32Array(problem.blocks.length);
  const high = new Int32Array(problem.blocks.length);
  const cents = new Float64Array(mostTriples);
  let bit = 0;
  triples.forEach((triple, at) => {
    if (prices.triple[at]! === 0) return;
    cents[bit] = prices.triple[at]!;
    for (const block of triple) {
      if (bit < 32) low[block]! |= 1 << bit;
      else high[block]! |= 1 << (bit - 32);
    }
    bit++;
  });
  return { low, high, cents };
}
