import { type Arcs, arcsOf } from "./arcs.ts";
import type { Column } from "./column.ts";
import { type Completion, completionOf } from "./completion.ts";
import { createLabelPool, type LabelPool } from "./labelPool.ts";
import { searchRoutes } from "./labels.ts";
import { learnCycles } from "./nearSets.ts";
import { dutyPrice, type Prices } from "./prices.ts";
import type { Relaxation } from "./relaxation.ts";
import type { FoundRoute, Task } from "./task.ts";
import { taskOf } from "./taskOf.ts";
import { bitsOf, countOf, type Triple } from "./triples.ts";

/** Ways home kept for each stop and step: few where many outings are looked at, more where labels are to be cut off. Our choice, by trial. */
const coarseWidth = 3;
const fineWidth = 4;
const routesOfOuting = 8;
/** Labels that there is room for: so many for each block, and not more in all. */
const labelsOfBlock = 5000;
const mostLabels = 1 << 19;
/** Of them, so many at first. */
const firstLabels = 1 << 16;
/** So often the memory grows within one search before its cycles are borne. */
const mostLessons = 2;

/** Prices, and the triples that some of them are for. */
export interface Offer {
  readonly prices: Prices;
  readonly triples: readonly Triple[];
}

/** What is carried from one pricing to the next. */
export interface Pricing {
  readonly relaxation: Relaxation;
  readonly pool: LabelPool;
  /** After so many labels a search is given up for the rougher bound. */
  mostLabels: number;
  /** Searches given up since that number was last raised. */
  givenUp: number;
  /** By outing: what its routes cost at least by the prices of a task before. */
  readonly before: ({ readonly task: Task; readonly leastCents: number } | undefined)[];
}

export function createPricing(relaxation: Relaxation): Pricing {
  return {
    relaxation,
    pool: createLabelPool(Math.min(mostLabels, labelsOfBlock * relaxation.problem.open.length)),
    mostLabels: firstLabels,
    givenUp: 0,
    before: [],
  };
}

/** Let searches go on for longer, if any was given up and there is room; tells whether they may. */
export function raiseLabels(pricing: Pricing): boolean {
  const isOfUse = pricing.givenUp > 0 && pricing.mostLabels < pricing.pool.size;
  if (isOfUse) pricing.mostLabels *= 2;
  pricing.givenUp = 0;
  return isOfUse;
}

/** An outing at given prices, with what its routes cost at least. */
interface Priced {
  readonly outing: number;
  readonly task: Task;
  readonly arcs: Arcs;
  readonly completion: Completion;
}

/**
 * What a route of the slot costs at least more than it brings, 0 if none costs less, and routes that come near that. When told to stop it says what it knows, from prices
 * before too; -Infinity if that is nothing.
 */
export function priceExactly(
  pricing: Pricing,
  slot: number,
  offer: Offer,
  shouldStop: () => boolean,
): { readonly leastCents: number; readonly columns: Column[] } {
  const { relaxation } = pricing;
  const columns: Column[] = [];
  if (shouldStop()) return { leastCents: leastByPricesBefore(pricing, slot, offer), columns };
  let leastCents = 0;
  const tasks = tasksOf(pricing, slot, offer).sort((a, b) => a.completion.leastCents - b.completion.leastCents);
  let roughCents = 0;
  for (const priced of tasks) {
    const { outing, task, completion } = priced;
    if (completion.leastCents >= leastCents) continue;
    if (shouldStop()) {
      roughCents = Math.min(roughCents, completion.leastCents);
      continue;
    }
    const found = cheapest(pricing, priced, leastCents);
    leastCents = Math.min(leastCents, found.leastCents);
    for (const route of found.routes) columns.push(columnOfRoute(relaxation, outing, task, route, offer));
  }
  return { leastCents: Math.min(leastCents, roughCents), columns };
}

/** The cheapest routes of one outing, if any costs less than `belowCents`. */
function cheapest(pricing: Pricing, { task, arcs: before, completion }: Priced, belowCents: number) {
  const { pool, mostLabels } = pricing;
  const search = { belowCents, mostRoutes: routesOfOuting, mostLabels, completion, over: null };
  const { routes } = searchRoutes(task, before, pool, { ...search, mode: "thin" });
  let below = routes.length === 0 ? belowCents : routes[0]!.reducedCents;
  const { day, wageCentsPerMin, overtimeCentsPerMin, standardMin } = task;
  for (let lesson = 0; completion.leastCents < below; lesson++) {
    // What was learned changes the memory.
    const arcs = arcsOf(task);
    const fine = completionOf(task, arcs, fineWidth, wageCentsPerMin);
    if (fine.leastCents >= below) break;
    const mayWorkOver = day.span - 1 > standardMin && overtimeCentsPerMin > 0;
    const over = mayWorkOver ? completionOf(task, arcs, fineWidth, wageCentsPerMin + overtimeCentsPerMin) : null;
    const found = searchRoutes(task, arcs, pool, {
      ...search,
      completion: fine,
      over,
      belowCents: below,
      mode: "exact",
    });
    if (found.leastCents === Number.NEGATIVE_INFINITY) {
      pricing.givenUp++;
      return { leastCents: fine.leastCents, routes };
    }
    const [first] = found.routes;
    const blocksOf = (route: FoundRoute) => route.stops.map((k) => day.block[k]!);
    const isLearned = first !== undefined && lesson < mostLessons && learnCycles(task.near, blocksOf(first)) > 0;
    if (!isLearned) return { leastCents: found.leastCents, routes: [...found.routes, ...routes] };
    for (const route of found.routes) {
      const blocks = blocksOf(route);
      if (new Set(blocks).size < blocks.length) continue;
      routes.push(route);
      below = Math.min(below, route.reducedCents);
    }
  }
  return { leastCents: below, routes };
}

/** Outings of the slot whose routes may cost less than they bring. */
function tasksOf({ relaxation, before }: Pricing, slot: number, { prices, triples }: Offer): Priced[] {
  const bits = bitsOf(triples, prices.triple, relaxation.problem.blocks.length);
  return relaxation.outingsOfSlot[slot]!.flatMap((outing) => {
    const task = taskOf(relaxation, outing, prices, bits);
    const last = before[outing];
    if (last !== undefined && last.leastCents - cheaperBy(last.task, task) >= 0) return [];
    const arcs = arcsOf(task);
    const completion = completionOf(task, arcs, coarseWidth, task.wageCentsPerMin);
    before[outing] = { task, leastCents: completion.leastCents };
    return [{ outing, task, arcs, completion }];
  });
}

function leastByPricesBefore({ relaxation, before }: Pricing, slot: number, { prices, triples }: Offer): number {
  const bits = bitsOf(triples, prices.triple, relaxation.problem.blocks.length);
  return relaxation.outingsOfSlot[slot]!.reduce((least, outing) => {
    const last = before[outing];
    if (last === undefined) return Number.NEGATIVE_INFINITY;
    return Math.min(least, last.leastCents - cheaperBy(last.task, taskOf(relaxation, outing, prices, bits)));
  }, 0);
}

/** By how much a route that serves no block twice may have become cheaper at most. */
function cheaperBy(last: Task, now: Task): number {
  const { block, mostStops } = last.day;
  const risen: number[] = [];
  let known = -1;
  for (let k = 0; k < block.length; k++) {
    if (block[k] === known) continue;
    known = block[k]!;
    const more = now.prizeCents[known]! - last.prizeCents[known]!;
    if (more > 0) risen.push(more);
  }
  if (risen.length > mostStops) risen.sort((a, b) => b - a).length = mostStops;
  const wage = Math.max(0, last.wageCentsPerMin - now.wageCentsPerMin) * last.dutyMaxMin;
  return risen.reduce((sum, more) => sum + more, 0) + (last.fixedCents - now.fixedCents) + wage;
}

function columnOfRoute(
  { outings, dutyLimits }: Relaxation,
  outing: number,
  task: Task,
  { stops, reducedCents, dutyMin }: FoundRoute,
  { prices, triples }: Offer,
): Column {
  const blocks = stops.map((k) => task.day.block[k]!);
  let cents = reducedCents - task.fixedCents - dutyMin * dutyPrice(dutyLimits[outings[outing]!.slot]!, prices);
  for (const block of blocks) cents += task.prizeCents[block]!;
  triples.forEach((triple, at) => {
    if (prices.triple[at]! > 0) cents -= prices.triple[at]! * countOf(triple, blocks);
  });
  return { outing, blocks, cents, dutyMin };
}
