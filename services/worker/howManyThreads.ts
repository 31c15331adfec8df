import { availableParallelism } from "node:os";
import type { Operation } from "../../shared/model/operation.ts";
import type { PlanBudget } from "../store/store.ts";

/** More threads than this hardly help one search. Our choice. */
const most = 4;

/** What all threads together should do with, and what one takes: so much in any case, and more with every order. Measured: DEVELOPERS.md. */
const roomMb = 1000;
const threadMb = 150;
const orderMb = 0.2;

/**
 * How many threads a plan is searched with: what is wanted, or as many as there are cores; fewer where the operation is so large that they would take too much memory; and one where a number of iterations
 * is to give the same plan every time.
 */
export function howManyThreads(operation: Operation, budget: PlanBudget, wanted: number | null): number {
  if (!("seconds" in budget)) return 1;
  const asked = wanted ?? Math.min(most, availableParallelism());
  const room = Math.floor(roomMb / (threadMb + orderMb * operation.orders.length));
  return Math.max(1, Math.min(asked, room));
}

/** A bound is sought for as long as the search lasts, by seconds; not on a single core, which the search needs. */
export function usualBoundSeconds(budget: PlanBudget, threads: number): number {
  return "seconds" in budget && threads > 1 ? budget.seconds : 0;
}
