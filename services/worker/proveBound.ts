import type { Worth } from "../../shared/plan/plan.ts";
import type { ProvenBound } from "../../shared/plan/proof.ts";
import { type Bound, boundOf } from "../solver/bound/boundOf.ts";
import { knownRoutesOf } from "../solver/bound/knownRoutes.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import type { Problem } from "../solver/problem.ts";
import { createShelf, type Shelf } from "../solver/shelf.ts";
import { createState } from "../solver/state.ts";
import type { RunClock } from "./runClock.ts";

export interface BoundAsk {
  readonly linear: LinearSolver;
  readonly seconds: number;
  readonly clock: RunClock;
  /** The best plan that another thread has told of; false when none has. */
  readonly hear: (into: Shelf) => boolean;
  readonly onBetter: (bound: ProvenBound) => void;
}

/** What no plan costs less than, as far as it can be proven in the time; null where nothing is. Routes are begun with those of a search beside it, which has had some seconds by then. */
export function proveBound(problem: Problem, { linear, seconds, clock, hear, onBetter }: BoundAsk): ProvenBound | null {
  const bound = boundOf(problem, {
    solver: linear,
    known: () => {
      const plan = createShelf(createState(problem.routes));
      return hear(plan) ? knownRoutesOf(problem, plan.kept) : [];
    },
    shouldStop: () => clock.shouldStop() || clock.seconds() >= seconds,
    onBetter: (cents, method) => onBetter({ boundCents: cents, method, finished: false, worth: [] }),
  });
  return told(bound);
}

function told({ cents, isFinished, method, worth }: Bound): ProvenBound | null {
  if (cents === null) return null;
  return {
    boundCents: cents,
    method,
    finished: isFinished,
    worth: worth.map(({ kind, date, baseId, id, cents: saved }): Worth => {
      const where = { thing: kind, date, baseId: baseId as Worth["baseId"], cents: saved };
      return id === null ? where : { ...where, id };
    }),
  };
}
