import type { LinearSolver } from "../linear/solver.ts";
import type { Problem } from "../problem.ts";
import { generateColumns, type Round } from "./columnGeneration.ts";
import { columnOf, type KnownRoute, routesLike } from "./knownRoutes.ts";
import type { SharedLimit } from "./outings.ts";
import type { Prices } from "./prices.ts";
import { type Relaxation, relax } from "./relaxation.ts";

export interface BoundAsk {
  readonly solver: LinearSolver;
  /** Crew-days of good plans, to start from. */
  readonly known: readonly KnownRoute[];
  readonly shouldStop: () => boolean;
  readonly onRound?: (round: Round) => void;
}

/** What one more of a thing, or one more minute of duty, would save at most, as long as the same limits bind. */
export interface Worth {
  readonly limit: SharedLimit;
  readonly cents: number;
}

/**
 * What no plan costs less than: none that this planner could make of the same blocks, with its own minutes of work and road, one kind of aircraft in each outfit, and works
 * that do not pause.
 */
export interface Bound {
  /** In whole cents, rounded down, as a plan's score is rounded. Null when there was no time for any. */
  readonly cents: number | null;
  /** False when more time could have raised it. */
  readonly isFinished: boolean;
  readonly worth: readonly Worth[];
}

/** A score's seven parts are each rounded to a cent, and the bound's own sums by far less. */
const roundingCents = 4;

export function boundOf(problem: Problem, { solver, known, shouldStop, onRound }: BoundAsk): Bound {
  const relaxation = relax(problem);
  const columns = known.flatMap((route) => columnOf(relaxation, route) ?? []);
  const like = columns.flatMap((column) => routesLike(relaxation, column));
  const found = generateColumns(relaxation, solver, [...columns, ...like], shouldStop, onRound);
  const { boundCents, prices, isFinished } = found;
  return {
    cents: Number.isFinite(boundCents) ? Math.max(0, Math.floor(boundCents - roundingCents)) : null,
    isFinished,
    worth: prices === null ? [] : worthOf(relaxation, prices),
  };
}

function worthOf({ limits }: Relaxation, prices: Prices): Worth[] {
  return limits.flatMap((limit, at) => {
    const cents = prices.limit[at]!;
    return cents > 0 && limit.kind !== "apart" ? [{ limit, cents }] : [];
  });
}
