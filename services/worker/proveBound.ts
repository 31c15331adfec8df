import type { MessagePort } from "node:worker_threads";
import type { ProvenBound } from "../../shared/plan/proof.ts";
import type { LinearSolver } from "../solver/linear/solver.ts";
import type { Problem } from "../solver/problem.ts";
import type { RunClock } from "./runClock.ts";

export interface BoundAsk {
  readonly linear: LinearSolver;
  readonly port: MessagePort;
  readonly seconds: number;
  readonly clock: RunClock;
  readonly onBetter: (bound: ProvenBound) => void;
}

export function proveBound(_problem: Problem, _ask: BoundAsk): ProvenBound | null {
  return null;
}
