import type { LinearSolver } from "../linear/solver.ts";
import type { Problem } from "../problem.ts";
import { boundApplies } from "./boundApplies.ts";
import type { Round } from "./columnGeneration.ts";
import { fluidBound } from "./fluid/fluidBound.ts";
import type { KnownRoute } from "./knownRoutes.ts";
import { mostBlocksForRoutes, routeBound } from "./routeBound.ts";
import { type Worth, worthOf } from "./worth.ts";

export interface BoundAsk {
  readonly solver: LinearSolver;
  /** Crew-days of good plans, to start from: asked for when the fluid bound is there, and none if there are none by then. */
  readonly known: () => readonly KnownRoute[];
  readonly shouldStop: () => boolean;
  /** Told whenever more is proven, in the same cents as the bound. */
  readonly onBetter?: (cents: number, method: Bound["method"]) => void;
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

/**
 * Pure: the time is handed in, and when it is up only what was proven by then is claimed. First the fluid bound, which is there at once and is all there is of a large operation, then
 * routes.
 */
export function boundOf(problem: Problem, { solver, known, shouldStop, onBetter, onRound }: BoundAsk): Bound {
  if (boundApplies(problem) !== null) return { cents: null, isFinished: false, method: "fluid", worth: [] };
  let bestCents = Number.NEGATIVE_INFINITY;
  const hearOf = (method: Bound["method"]) => (cents: number) => {
    if (cents <= bestCents) return;
    bestCents = cents;
    onBetter?.(claimed(cents), method);
  };
  const fluid = fluidBound(problem, shouldStop, hearOf("fluid"));
  const ofFluid: Bound = {
    cents: Number.isFinite(fluid.boundCents) ? claimed(fluid.boundCents) : null,
    isFinished: fluid.isFinished,
    method: "fluid",
    worth: worthOf(problem, fluid.limits, fluid.prices),
  };
  if (problem.open.length > mostBlocksForRoutes) return ofFluid;
  if (shouldStop()) return { ...ofFluid, isFinished: false };

  const routes = routeBound(problem, fluid, {
    solver,
    known,
    shouldStop,
    onBetter: hearOf("routes"),
    ...(onRound === undefined ? {} : { onRound }),
  });
  const { boundCents, proof, relaxation, isFinished } = routes;
  if (proof === null || boundCents <= fluid.boundCents) return { ...ofFluid, isFinished };
  return {
    cents: claimed(boundCents),
    isFinished,
    method: "routes",
    worth: worthOf(problem, relaxation.limits, proof.prices.limit),
  };
}

/** What may be said of a bound: a score's parts are rounded each for itself. */
export function claimed(boundCents: number): number {
  return Math.max(0, Math.floor(boundCents - roundingCents));
}
