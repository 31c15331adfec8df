import type { Tour } from "../../shared/contracts/tours.ts";
import type { BaseId, BlockId, CrewId } from "../../shared/model/quantities.ts";
import { sleepsAt } from "../../shared/plan/nights.ts";
import type { CrewDay, Plan } from "../../shared/plan/plan.ts";
import { takesPlaceOf } from "../../shared/plan/published.ts";
import { groupBy, worksOf } from "../../shared/plan/totals.ts";
import { keepLocked } from "./holdLocks.ts";
import { takenOf } from "./kinds.ts";
import { kitOf } from "./kits.ts";
import { putTours, releaseIdle, type SlotTour } from "./outside/putTours.ts";
import { resolveTours } from "./outside/resolveTours.ts";
import { whyNot } from "./outside/whyNot.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";

/** A stop of a plan that no longer holds where it was. */
export interface LeftOut {
  readonly crewId: CrewId;
  readonly date: string;
  /** Its block, by the name that it has now if it is still there. */
  readonly blockId: BlockId;
  readonly reason: string;
}

/** Our choice: finding out why takes as long as many iterations; the others are told without a reason of their own. */
const mostReasons = 20;

/**
 * A state that does what a plan does, as far as it still holds. Days before the first are past and not spoken of. What is locked comes first: `held` is the week that holds
 * nothing else.
 */
export function startFrom(
  problem: Problem,
  plan: Plan,
  held: State | null = null,
): { readonly state: State; readonly left: readonly LeftOut[] } {
  const { tours, gone } = toursNow(problem, plan);
  const { resolved, faults } = resolveTours(problem, tours);
  // What a tour takes out may have been sold since.
  const unknown = new Set(faults.filter(({ path }) => path[2] === "outfit").map(({ path }) => path[1]));
  const slotTours = resolved.map(
    (one, at): SlotTour => ({
      slot: one.slot,
      stops: one.stops,
      things: unknown.has(at) ? null : one.things,
      sleepsAt: one.sleepsAt,
    }),
  );
  const { state, put } = putBeside(problem, slotTours, held);
  const left = [...gone];
  slotTours.forEach((tour, at) => {
    const { crewId, date } = tours[at]!;
    for (const block of tour.stops) {
      if (state.slotOf[block] === tour.slot) continue;
      const { id } = problem.blocks[block]!.block;
      const reason =
        state.outfit[tour.slot] === null
          ? "the crew has no outfit left that can do it"
          : left.length < mostReasons
            ? whyNot(problem, state, tour.slot, block)
            : "it does not fit any more";
      left.push({ crewId, date, blockId: id, reason });
    }
  });
  releaseIdle(state, put);
  if (held !== null) keepLocked(problem, state);
  return { state, left };
}

/** The tours put into a week that keeps what is locked: with the plan's own tours of locked crew-days where these have all of it, else with nothing else on those days. */
function putBeside(
  problem: Problem,
  tours: readonly SlotTour[],
  held: State | null,
): { state: State; put: readonly SlotTour[] } {
  if (held === null) return { state: putTours(problem, tours, "goesOn").state, put: tours };
  const bare = problem.locks.slots.flatMap(({ slot }): SlotTour[] =>
    held.count[slot] === 0
      ? []
      : [{ slot, things: takenOf(kitOf(held, slot)!), stops: stopsOf(held, slot), sleepsAt: -1 }],
  );
  const own = bare.map((locked) => {
    const tour = tours.find(({ slot }) => slot === locked.slot);
    return tour !== undefined && locked.stops.every((block) => tour.stops.includes(block)) ? tour : locked;
  });
  for (const before of [own, bare]) {
    const isLocked = ({ slot }: SlotTour) => bare.some((locked) => locked.slot === slot);
    const put = [...before, ...tours.filter((tour) => !isLocked(tour))];
    const { state } = putTours(problem, put, "goesOn", isLocked);
    if (bare.every(({ slot, stops }) => stops.every((block) => state.slotOf[block] === slot))) return { state, put };
  }
  return { state: held, put: [] };
}

function stopsOf({ routes, sequence, count }: State, slot: number): number[] {
  return [...sequence.subarray(slot * routes.stride, slot * routes.stride + count[slot]!)];
}

/** The plan's tours with the blocks of now, and the stops that have no block or no crew-day any more. */
function toursNow(problem: Problem, plan: Plan): { tours: Tour[]; gone: LeftOut[] } {
  const { calendar, crews, slots } = problem;
  const blocksNow = problem.blocks.map(({ block }) => block);
  const nowOf = groupBy([...takesPlaceOf(plan.blocks, blocksNow)], ([, before]) => before.id);
  const hasSlot = ({ crewId, date }: CrewDay) =>
    slots.some(({ crew, day }) => crews[crew]!.id === crewId && calendar.dates[day] === date);
  const gone: LeftOut[] = [];
  const tours = plan.crewDays
    .filter(({ date }) => date >= calendar.dates[0]!)
    .flatMap((crewDay): Tour[] => {
      const { crewId, date, outfit } = crewDay;
      const hasShift = hasSlot(crewDay);
      const blockIds = worksOf(crewDay).flatMap(({ blockId }) => {
        const now = (nowOf.get(blockId) ?? []).map(([id]) => id);
        if (now.length > 0 && hasShift) return now;
        const reason =
          now.length > 0 ? "the crew has no shift on that day" : "its order or its ground is not there any more";
        gone.push({ crewId, date, blockId, reason });
        return [];
      });
      return blockIds.length === 0 ? [] : [{ crewId, date, outfit, blockIds, sleepsAt: sleepsAt(crewDay) as BaseId }];
    });
  return { tours, gone };
}
