import { availableParallelism } from "node:os";

/** Our choice: each holds the operation and a compiled problem, and more of them hardly fit the memory that they share. */
const most = 4;

/** How many plannings run at once where nobody says it. */
export function usualThreads(): number {
  return Math.min(most, availableParallelism());
}
