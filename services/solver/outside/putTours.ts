import { insertAt } from "../insertion.ts";
import { canWork } from "../kinds.ts";
import { freeKits } from "../kits.ts";
import { settleAllNights, sleepAt } from "../nights.ts";
import type { Kit, Problem, Taken } from "../problem.ts";
import type { State } from "../routes.ts";
import { createDayRun, createState, setOutfit, touch } from "../state.ts";
import { ask, putTogether } from "./putTogether.ts";
import { kitFor } from "./takeOut.ts";

/** What a slot does, without the times that the day's rules make of it. */
export interface SlotTour {
  readonly slot: number;
  /** Null where what was taken out before is not there any more. */
  readonly things: Taken | null;
  readonly stops: readonly number[];
  /** Place of a base away from home at which the crew sleeps after it; -1: at home. */
  readonly sleepsAt: number;
}

/** What becomes of a stop that does not run: the rest of its tour is left out too, or goes on without it, if need be with other things. */
export type Unrun = "ends" | "goesOn";

export interface Put<Tour extends SlotTour> {
  readonly state: State;
  /** Stops that do not run, the first of each tour that ends there. */
  readonly unrun: ReadonlyMap<Tour, readonly number[]>;
  /** Tours whose outfit cannot go out, with the reason. */
  readonly refused: ReadonlyMap<Tour, string>;
}

/** Runs of one set of tours with others first; our choice, more are seldom of use. */
const mostAttempts = 6;

/**
 * Tours put into an empty week through the day rules, stop by stop and day by day. Tours do not say who goes first on a field that crews share: when one stops,
 * they are run again with that one before all others of its day, and what leaves out least is kept. Tours for which `goesBefore` says so are all put in before the others.
 */
export function putTours<Tour extends SlotTour>(
  problem: Problem,
  tours: readonly Tour[],
  unrun: Unrun,
  goesBefore: (tour: Tour) => boolean = () => false,
): Put<Tour> {
  const first: Tour[] = [];
  const phases = [tours.filter(goesBefore), tours.filter((tour) => !goesBefore(tour))];
  let best = attempt(problem, phases, first, unrun);
  let next = best;
  for (let attempts = 1; attempts < mostAttempts; attempts++) {
    const stopped = tours.find((tour) => next.unrun.has(tour) && !first.includes(tour));
    if (stopped === undefined) break;
    first.push(stopped);
    next = attempt(problem, phases, first, unrun);
    if (next.state.planned > best.state.planned) best = next;
  }
  return best;
}

function attempt<Tour extends SlotTour>(
  problem: Problem,
  phases: readonly (readonly Tour[])[],
  first: readonly Tour[],
  unrun: Unrun,
): Put<Tour> {
  const state = createState(problem.routes);
  const refused = new Map<Tour, string>();
  const left = new Map<Tour, number[]>();
  for (const { slot, sleepsAt } of phases.flat()) {
    const night = problem.routes.nights.find(({ evening }) => evening === slot);
    if (sleepsAt >= 0 && night !== undefined) sleepAt(state, night, sleepsAt);
  }
  for (const tours of phases) {
    for (const tour of tours) {
      const kit =
        tour.things === null ? "what it took out is not there" : kitFor(problem, state, tour.slot, tour.things);
      if (typeof kit === "string") refused.set(tour, kit);
      else setOutfit(state, tour.slot, kit);
    }
    if (unrun === "goesOn") {
      for (const tour of tours) {
        if (refused.has(tour)) setOutfit(state, tour.slot, nextBestKit(problem, state, tour));
      }
    }
    const hasOutfit = ({ slot }: Tour) => state.outfit[slot] !== null;
    for (let day = 0; day < problem.calendar.dates.length; day++) {
      const ofDay = tours.filter((tour) => problem.slots[tour.slot]!.day === day && hasOutfit(tour));
      for (const tour of first) if (ofDay.includes(tour)) runTogether(problem, state, [tour], unrun, left);
      runTogether(
        problem,
        state,
        ofDay.filter((tour) => !first.includes(tour)),
        unrun,
        left,
      );
    }
  }
  const tours = phases.flat();
  bringHome(problem, state, tours, left);
  for (const tour of tours) {
    if (state.outfit[tour.slot] === null && unrun === "goesOn") left.set(tour, [...tour.stops]);
  }
  return { state, unrun: left, refused };
}

/** Crews whose other day beside a night away came to nothing sleep at home, and what no longer runs then is left out. */
function bringHome<Tour extends SlotTour>(
  problem: Problem,
  state: State,
  tours: readonly Tour[],
  left: Map<Tour, number[]>,
): void {
  const before = tours.map(({ stops }) => stops.filter((block) => state.slotOf[block]! >= 0));
  settleAllNights(state, createDayRun(problem.routes.stride));
  tours.forEach((tour, at) => {
    const lost = before[at]!.filter((block) => state.slotOf[block]! < 0);
    if (lost.length > 0) left.set(tour, [...lost, ...(left.get(tour) ?? [])]);
  });
}

/** Outfits of tours of which nothing runs go back to the pools. */
export function releaseIdle(state: State, tours: readonly SlotTour[]): void {
  for (const { slot } of tours) if (state.count[slot] === 0) setOutfit(state, slot, null);
}

/** Of the kits that the pools still hold the one that can do the most of the tour's stops, as far as minutes go; of those with what was taken out before. */
function nextBestKit(problem: Problem, state: State, { slot, things, stops }: SlotTour): Kit | null {
  let best: Kit | null = null;
  let most = 0;
  for (const kit of freeKits(problem, state, slot)) {
    const able = stops.filter((block) => canWork(problem, kit, block)).length;
    const same = things === null ? 0 : kit.aircraft.filter((one) => things.aircraft.includes(one)).length;
    const merit = able === 0 ? 0 : able + same / 100 + (kit.tender === things?.tender ? 0.001 : 0);
    if (merit <= most) continue;
    most = merit;
    best = kit;
  }
  return best;
}

/** Tours of a day side by side: the crew whose next stop can begin first goes on first; of two at once the one with more stops before it, which has less time to lose. */
function runTogether<Tour extends SlotTour>(
  problem: Problem,
  state: State,
  tours: readonly Tour[],
  unrun: Unrun,
  left: Map<Tour, number[]>,
): void {
  const run = createDayRun(problem.routes.stride);
  let going = tours.map((tour) => ({ tour, rest: [...tour.stops] }));
  while (going.length > 0) {
    let next: (typeof going)[number] | null = null;
    let nextMin = Number.POSITIVE_INFINITY;
    /** A crew that another must go before to a field of theirs cannot go on yet. */
    let stuck: (typeof going)[number] | null = null;
    let isMoving = false;
    for (const one of going) {
      const { tour, rest } = one;
      const startMin = startAtEnd(problem, state, tour.slot, rest[0]!, run);
      if (startMin === null) {
        const together = putTogether(state, run, tour.slot, rest);
        if (together > 0) {
          rest.splice(0, together);
          isMoving = true;
        } else stuck ??= one;
      } else if (startMin < nextMin || (startMin === nextMin && next !== null && rest.length > next.rest.length)) {
        nextMin = startMin;
        next = one;
      }
    }
    if (next !== null) {
      const { slot } = next.tour;
      if (insertAt(state, run, slot, next.rest[0]!, state.count[slot]!)) next.rest.shift();
    } else if (stuck !== null && !isMoving) {
      const { tour, rest } = stuck;
      left.set(tour, [...(left.get(tour) ?? []), rest.shift()!]);
      if (unrun === "ends") rest.length = 0;
    }
    going = going.filter(({ rest }) => rest.length > 0);
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
