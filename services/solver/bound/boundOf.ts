import type { LinearSolver } from "../linear/solver.ts";
import type { Problem } from "../problem.ts";
import { boundApplies } from "./boundApplies.ts";
import { generateColumns, type Round } from "./columnGeneration.ts";
import { columnOf, type KnownRoute, routesLike } from "./knownRoutes.ts";
import { relax } from "./relaxation.ts";
import { type Worth, worthOf } from "./worth.ts";

export interface BoundAsk {
  readonly solver: LinearSolver;
  /** Crew-days of good plans, to start from. */
  readonly known: readonly KnownRoute[];
  readonly shouldStop: () => boolean;
  /** Told whenever more is proven, in the same cents as the bound. */
  readonly onBetter?: (cents: number) => void;
  readonly onRound?: (round: Round) => void;
}

/** What no plan costs less than: none that this planner could make of the same blocks, with its own minutes of work and road. */
export interface Bound {
  /** In whole cents, rounded down, as a plan's score is rounded. Null when there was no time for any, or where `boundApplies` names what it would not cover. */
  readonly cents: number | null;
  /** False when more time could have raised it. */
  readonly isFinished: boolean;
  readonly method: "routes" | "fluid";
  readonly worth: readonly Worth[];
}

/** A score's parts are each rounded to a cent, and the bound's own sums by far less. */
const roundingCents = 6;

/** With more blocks, routes are priced too slowly. Our choice, by trial. */
const mostBlocksForRoutes = 250;

const nothing: Bound = { cents: null, isFinished: false, method: "fluid", worth: [] };

/** Pure: the time is handed in, and when it is up only what was proven by then is claimed. */
export function boundOf(problem: Problem, { solver, known, shouldStop, onBetter, onRound }: BoundAsk): Bound {
  if (boundApplies(problem) !== null || problem.open.length > mostBlocksForRoutes) return nothing;
  const relaxation = relax(problem);
  const columns = known.flatMap((route) => columnOf(relaxation, route) ?? []);
  const like = columns.flatMap((column) => routesLike(relaxation, column));
  const found = generateColumns(relaxation, {
    solver,
    known: [...columns, ...like],
    shouldStop,
    onBetter: (cents) => onBetter?.(claimed(cents)),
    ...(onRound === undefined ? {} : { onRound }),
  });
  const { boundCents, prices, isFinished } = found;
  return {
    cents: Number.isFinite(boundCents) ? claimed(boundCents) : null,
    isFinished,
    method: "routes",
    worth: prices === null ? [] : worthOf(problem, relaxation.limits, prices.limit),
  };
}

function claimed(boundCents: number): number {
  return Math.max(0, Math.floor(boundCents - roundingCents));
}
