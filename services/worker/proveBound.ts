import type { Worth } from "../../shared/plan/plan.ts";
import type { ProvenBound } from "../../shared/plan/proof.ts";
import { type Bound, boundOf } from "../solver/bound/boundOf.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import type { Problem } from "../solver/problem.ts";
import type { RunClock } from "./runClock.ts";

export interface BoundAsk {
  readonly linear: LinearSolver;
  readonly seconds: number;
  readonly clock: RunClock;
  readonly onBetter: (bound: ProvenBound) => void;
}

/** What no plan costs less than, as far as it can be proven in the time; null where nothing is. Crew-days of the search's first plan to start from were tried and bring nothing. */
export function proveBound(problem: Problem, { linear, seconds, clock, onBetter }: BoundAsk): ProvenBound | null {
  const bound = boundOf(problem, {
    solver: linear,
    known: [],
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
