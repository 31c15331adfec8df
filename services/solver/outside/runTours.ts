import type { Tour } from "../../../shared/contracts/tours.ts";
import type { BlockId } from "../../../shared/model/quantities.ts";
import { insertAt } from "../insertion.ts";
import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { createDayRun, createState, setOutfit, touch } from "../state.ts";
import { ask, putTogether } from "./putTogether.ts";
import type { ResolvedTour } from "./resolveTours.ts";
import { kitFor } from "./takeOut.ts";
import { whyNot } from "./whyNot.ts";

/** What became of a tour: how many of its stops run, and the first that does not. */
export interface TourRun {
  readonly crewId: Tour["crewId"];
  readonly date: Tour["date"];
  readonly stops: number;
  readonly ran: number;
  readonly stopped?: { readonly stop: number; readonly blockId: BlockId; readonly reason: string };
}

/** Runs of one set of tours with others first; our choice, more are seldom of use. */
const mostAttempts = 6;

/**
 * Tours through the day rules, stop by stop and day by day. What comes after a stop that does not run is left out. Tours do not say who goes first on a field that
 * crews share: when one stops, they are run again with that one before all others of its day, and what leaves out least is kept.
 */
export function runTours(
  problem: Problem,
  tours: readonly ResolvedTour[],
): { readonly state: State; readonly runs: readonly TourRun[] } {
  const first: ResolvedTour[] = [];
  let best = attempt(problem, tours, first);
  let next = best;
  for (let attempts = 1; attempts < mostAttempts; attempts++) {
    const stopped = tours.find((tour) => next.stopped.has(tour) && !first.includes(tour));
    if (stopped === undefined) break;
    first.push(stopped);
    next = attempt(problem, tours, first);
    if (next.state.planned > best.state.planned) best = next;
  }
  const { state, stopped, refused } = best;
  const runs = tours.map((tour): TourRun => {
    const { crewId, date, blockIds } = tour.tour;
    const ran = state.count[tour.slot]!;
    const run = { crewId, date, stops: blockIds.length, ran };
    const refusal = refused.get(tour);
    if (refusal === undefined && !stopped.has(tour)) return run;
    const reason = refusal ?? whyNot(problem, state, tour.slot, tour.stops[ran]!);
    return { ...run, stopped: { stop: ran + 1, blockId: blockIds[ran]!, reason } };
  });
  for (const { slot } of tours) if (state.count[slot] === 0) setOutfit(state, slot, null);
  return { state, runs };
}

interface Attempt {
  readonly state: State;
  /** Tours with a stop that did not run. */
  readonly stopped: ReadonlySet<ResolvedTour>;
  /** Tours whose outfit cannot go out, with the reason. */
  readonly refused: ReadonlyMap<ResolvedTour, string>;
}

function attempt(problem: Problem, tours: readonly ResolvedTour[], first: readonly ResolvedTour[]): Attempt {
  const state = createState(problem.routes);
  const refused = new Map<ResolvedTour, string>();
  const stopped = new Set<ResolvedTour>();
  for (const tour of tours) {
    const kit = kitFor(problem, state, tour.slot, tour.things);
    if (typeof kit === "string") refused.set(tour, kit);
    else setOutfit(state, tour.slot, kit);
  }
  for (let day = 0; day < problem.calendar.dates.length; day++) {
    const ofDay = tours.filter((tour) => problem.slots[tour.slot]!.day === day && !refused.has(tour));
    for (const tour of first) if (ofDay.includes(tour)) runTogether(problem, state, [tour], stopped);
    runTogether(
      problem,
      state,
      ofDay.filter((tour) => !first.includes(tour)),
      stopped,
    );
  }
  return { state, stopped, refused };
}

/** Tours of a day side by side: the crew whose next stop can begin first goes on first; of two at once the one with more stops before it, which has less time to lose. */
function runTogether(problem: Problem, state: State, tours: readonly ResolvedTour[], stopped: Set<ResolvedTour>): void {
  const run = createDayRun(problem.routes.stride);
  const left = ({ slot, stops }: ResolvedTour) => stops.length - state.count[slot]!;
  let going = tours;
  while (going.length > 0) {
    let next: ResolvedTour | null = null;
    let nextMin = Number.POSITIVE_INFINITY;
    for (const tour of going) {
      const startMin = startAtEnd(problem, state, tour.slot, tour.stops[state.count[tour.slot]!]!, run);
      if (startMin === null) {
        const together = putTogether(state, run, tour.slot, tour.stops.slice(state.count[tour.slot]!));
        if (together === 0) stopped.add(tour);
      } else if (startMin < nextMin || (startMin === nextMin && next !== null && left(tour) > left(next))) {
        nextMin = startMin;
        next = tour;
      }
    }
    if (next !== null) insertAt(state, run, next.slot, next.stops[state.count[next.slot]!]!, state.count[next.slot]!);
    going = going.filter((tour) => !stopped.has(tour) && left(tour) > 0);
  }
}

/** When a block would begin as a slot's last stop; null when it does not run there. */
export function startAtEnd(
  { routes }: Problem,
  state: State,
  slot: number,
  block: number,
  run = createDayRun(routes.stride),
): number | null {
  if (!ask(state, slot, block)) return null;
  // Another crew may have come to the field of an earlier stop since: its times are worked out anew.
  touch(state, slot);
  const at = state.count[slot]!;
  return state.rules!.run(slot, block, at, run) ? run.starts[at]! : null;
}
