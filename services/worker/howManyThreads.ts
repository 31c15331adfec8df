import { availableParallelism } from "node:os";
import type { Operation } from "../../shared/model/operation.ts";
import type { PlanBudget } from "../store/store.ts";

/** More threads than this hardly help one search. Our choice. */
const most = 4;

/** What the process should do with, what it takes itself, and each thread: so much in any case, and more with every order. Measured: DEVELOPERS.md. */
const roomMb = 1000;
const processMb = 180;
const threadMb = 100;
const orderMb = 0.18;

/**
 * How many threads a plan is searched with: what is wanted, or as many as there are cores; fewer where the operation is so large that they would take too much memory; and one where a number of iterations
 * is to give the same plan every time.
 */
export function howManyThreads(operation: Operation, budget: PlanBudget, wanted: number | null): number {
  if (!("seconds" in budget)) return 1;
  const asked = wanted ?? Math.min(most, availableParallelism());
  const room = Math.floor((roomMb - processMb) / (threadMb + orderMb * operation.orders.length));
  return Math.max(1, Math.min(asked, room));
}

/** A bound is sought for as long as the search lasts, by seconds; not on a single core, which the search needs. */
export function usualBoundSeconds(budget: PlanBudget, threads: number): number {
  return "seconds" in budget && threads > 1 ? budget.seconds : 0;
}
