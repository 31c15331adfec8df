import type { LinearSolver } from "../linear/solver.ts";
import type { Problem } from "../problem.ts";
import { createRandom } from "../random.ts";
import { solve } from "../solve.ts";
import { type Generated, generateColumns, type Round } from "./columnGeneration.ts";
import type { FluidBound } from "./fluid/fluidBound.ts";
import { columnOf, type KnownRoute, knownRoutesOf, routesLike } from "./knownRoutes.ts";
import { type Relaxation, relax } from "./relaxation.ts";

/** With more blocks, routes are priced too slowly. Our choice, by trial. */
export const mostBlocksForRoutes = 250;

/** Iterations for each block of the search for routes to begin with, where none are known. Our choice, by trial. */
const iterationsOfBlock = 40;

export interface RouteAsk {
  readonly solver: LinearSolver;
  /** Crew-days of good plans, to start from. */
  readonly known: () => readonly KnownRoute[];
  readonly shouldStop: () => boolean;
  readonly onBetter: (boundCents: number) => void;
  readonly onRound?: (round: Round) => void;
}

export interface RouteBound extends Generated {
  readonly relaxation: Relaxation;
}

/** The bound by routes, begun with the fluid bound's prices. */
export function routeBound(problem: Problem, fluid: FluidBound, { known, ...ask }: RouteAsk): RouteBound {
  const relaxation = relax(problem);
  const found = known();
  const start = found.length > 0 ? found : ownRoutes(problem, ask.shouldStop);
  const columns = start.flatMap((route) => columnOf(relaxation, route) ?? []);
  const like = columns.flatMap((column) => routesLike(relaxation, column));
  const first = firstPrices(fluid, relaxation.limits.length);
  return { relaxation, ...generateColumns(relaxation, { ...ask, known: [...columns, ...like], first }) };
}

/** Prices of routes mean nothing before there are good ones: a short search finds some, sooner than pricing does. */
function ownRoutes(problem: Problem, shouldStop: () => boolean): KnownRoute[] {
  const most = iterationsOfBlock * problem.open.length;
  const doneShare = (iterations: number) => (shouldStop() ? 1 : iterations / most);
  return knownRoutesOf(problem, solve(problem.routes, { random: createRandom(1), doneShare }).state);
}

/** The fluid bound's prices as those of routes, which have more limits. */
function firstPrices({ boundCents, blockCents, prices }: FluidBound, limits: number) {
  const limit = new Float64Array(limits);
  limit.set(prices);
  return { boundCents, prices: { block: blockCents, limit, triple: new Float64Array(0) }, triples: [] };
}
