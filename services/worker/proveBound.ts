import type { MessagePort } from "node:worker_threads";
import type { Worth } from "../../shared/plan/plan.ts";
import type { ProvenBound } from "../../shared/plan/proof.ts";
import { boundApplies } from "../solver/bound/boundApplies.ts";
import { type Bound, boundOf } from "../solver/bound/boundOf.ts";
import { knownRoutesOf } from "../solver/bound/knownRoutes.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import type { Problem } from "../solver/problem.ts";
import { type Snapshot, stateFrom } from "../solver/snapshot.ts";
import { newestOf } from "./exchangeOver.ts";
import type { RunClock } from "./runClock.ts";

/** Our choice: routes of a plan that was searched for a moment are a better start than those of the first; so long its search is waited for, as a share of the time there is. */
const waitShare = 0.1;
const lookEveryMs = 20;

export interface BoundAsk {
  readonly linear: LinearSolver;
  /** Where plans of other threads come in. */
  readonly port: MessagePort;
  readonly seconds: number;
  readonly clock: RunClock;
  readonly onBetter: (bound: ProvenBound) => void;
}

/** What no plan costs less than, as far as it can be proven in the time; null where nothing is. */
export function proveBound(problem: Problem, { linear, port, seconds, clock, onBetter }: BoundAsk): ProvenBound | null {
  if (boundApplies(problem) !== null) return null;
  const snapshot = plansOfOthers(port, seconds, clock);
  const bound = boundOf(problem, {
    solver: linear,
    known: snapshot === null ? [] : knownRoutesOf(problem, stateFrom(problem, snapshot)),
    shouldStop: () => clock.shouldStop() || clock.seconds() >= seconds,
    onBetter: (cents) => onBetter({ boundCents: cents, method: "routes", finished: false, worth: [] }),
  });
  return told(bound);
}

function plansOfOthers(port: MessagePort, seconds: number, clock: RunClock): Snapshot | null {
  const sleeper = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  let newest: Snapshot | null = null;
  while (!clock.shouldStop()) {
    newest = newestOf(port) ?? newest;
    if (clock.seconds() >= waitShare * seconds && (newest !== null || clock.seconds() >= 3 * waitShare * seconds))
      break;
    Atomics.wait(sleeper, 0, 0, lookEveryMs);
  }
  return newest;
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
