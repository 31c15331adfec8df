import type { Tour } from "../../../shared/contracts/tours.ts";
import type { BlockId } from "../../../shared/model/quantities.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { putTours, releaseIdle } from "./putTours.ts";
import type { ResolvedTour } from "./resolveTours.ts";
import { whyNot } from "./whyNot.ts";

/** What became of a tour: how many of its stops run, and the first that does not. */
export interface TourRun {
  readonly crewId: Tour["crewId"];
  readonly date: Tour["date"];
  readonly stops: number;
  readonly ran: number;
  readonly stopped?: { readonly stop: number; readonly blockId: BlockId; readonly reason: string };
}

/** Tours from outside through the day rules. What comes after a stop that does not run is left out. */
export function runTours(
  problem: Problem,
  tours: readonly ResolvedTour[],
): { readonly state: State; readonly runs: readonly TourRun[] } {
  const { state, unrun, refused } = putTours(problem, tours, "ends");
  const runs = tours.map((tour): TourRun => {
    const { crewId, date, blockIds } = tour.tour;
    const ran = state.count[tour.slot]!;
    const run = { crewId, date, stops: blockIds.length, ran };
    const refusal = refused.get(tour);
    if (refusal === undefined && !unrun.has(tour)) return run;
    const reason = refusal ?? whyNot(problem, state, tour.slot, tour.stops[ran]!);
    return { ...run, stopped: { stop: ran + 1, blockId: blockIds[ran]!, reason } };
  });
  releaseIdle(state, tours);
  return { state, runs };
}
