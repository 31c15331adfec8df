import { canWork } from "../kinds.ts";
import { kitOf } from "../kits.ts";
import type { Problem } from "../problem.ts";
import type { DayRun, State } from "../routes.ts";
import { createDayRun, touch } from "../state.ts";

/** A crew-day that takes a block in place of some of its stops. */
export interface Swap {
  readonly slot: number;
  /** Stops that have to go, by their place. */
  readonly out: readonly number[];
  /** What the plan would then cost more, in cents: below zero it would gain. */
  readonly lossCents: number;
}

/** Days still to be walked, so that the reasons of a large week take no longer than people wait. */
export interface WalkBudget {
  left: number;
}

/** Our choice: the walks of one block, and of a whole week's reasons. */
const mostWalksOfBlock = 1000;
export const mostWalks = 15_000;

/**
 * What a block would displace, tried by walking each crew-day that could do it without some of its stops: single ones, where none does pairs, and else the least valuable
 * ones until it fits. One swap for each crew-day, those that lose least first. The state is left as it was.
 */
export function swapsFor(problem: Problem, state: State, block: number, budget: WalkBudget): Swap[] {
  const { valueCents, stride, lockedCents } = problem.routes;
  const run = createDayRun(stride);
  const ofBlock = { left: Math.min(mostWalksOfBlock, budget.left) };
  const before = ofBlock.left;
  if (before === 0) return [];
  const worth = (slot: number, at: number) => {
    const stop = state.sequence[slot * stride + at]!;
    // Another part of the same order would be no gain to anybody.
    const isKept = (lockedCents?.[stop] ?? 0) > 0 || problem.blocks[stop]!.order === problem.blocks[block]!.order;
    return isKept ? Number.POSITIVE_INFINITY : valueCents[stop]!;
  };
  const days = problem.slotsOfBlock[block]!.filter((slot) => {
    const kit = kitOf(state, slot);
    return state.count[slot]! > 0 && kit !== null && canWork(problem, kit, block);
  }).map((slot) => {
    const places = Array.from({ length: state.count[slot]! }, (_, at) => at)
      .filter((at) => worth(slot, at) < Number.POSITIVE_INFINITY)
      .sort((a, b) => worth(slot, a) - worth(slot, b));
    return { slot, places };
  });
  // Those with the least valuable stops promise most.
  days.sort((a, b) => least(a) - least(b));
  const swaps = days.flatMap(({ slot, places }) => {
    if (ofBlock.left === 0) return [];
    const swap = bestOf(places.map((at) => [at])) ?? bestOf(pairsOf(places)) ?? greedily();
    return swap === null ? [] : [swap];

    function bestOf(all: readonly (readonly number[])[]): Swap | null {
      let best: Swap | null = null;
      for (const out of all) {
        if (ofBlock.left === 0) break;
        const lossCents = lossWithout(problem, state, run, slot, block, out, ofBlock);
        if (lossCents !== null && (best === null || lossCents < best.lossCents)) best = { slot, out, lossCents };
      }
      return best;
    }

    function greedily(): Swap | null {
      for (let count = 3; count <= places.length && ofBlock.left > 0; count++) {
        const out = places.slice(0, count);
        if (lossWithout(problem, state, run, slot, block, out, ofBlock) === null) continue;
        // The last one is needed; of the others those go back that may.
        let needed = out;
        for (const at of out.slice(0, -1)) {
          const fewer = needed.filter((one) => one !== at);
          if (lossWithout(problem, state, run, slot, block, fewer, ofBlock) !== null) needed = fewer;
        }
        return bestOf([needed]);
      }
      return null;
    }
  });
  budget.left -= before - ofBlock.left;
  return swaps.sort((a, b) => a.lossCents - b.lossCents || a.slot - b.slot);

  function least({ slot, places }: (typeof days)[number]): number {
    return places.length === 0 ? Number.POSITIVE_INFINITY : worth(slot, places[0]!);
  }
}

function pairsOf(places: readonly number[]): (readonly number[])[] {
  return places.flatMap((at, index) => places.slice(index + 1).map((other) => [at, other]));
}

/** By how much the plan grows dearer when a block takes the place of stops; null where it does not fit then. */
function lossWithout(
  problem: Problem,
  state: State,
  run: DayRun,
  slot: number,
  block: number,
  out: readonly number[],
  budget: WalkBudget,
): number | null {
  const { stride, valueCents } = problem.routes;
  const held = slot * stride;
  const count = state.count[slot]!;
  const version = state.version[slot]!;
  const stops = state.sequence.slice(held, held + count);
  const kept = stops.filter((_, at) => !out.includes(at));
  state.sequence.set(kept, held);
  state.count[slot] = kept.length;
  let displacedCents = 0;
  for (const at of out) {
    state.slotOf[stops[at]!] = -1;
    displacedCents += valueCents[stops[at]!]!;
  }
  touch(state, slot);
  let least: number | null = null;
  for (let place = 0; place <= kept.length && budget.left > 0; place++) {
    budget.left--;
    if (state.rules!.run(slot, block, place, run) && (least === null || run.cents < least)) least = run.cents;
  }
  state.sequence.set(stops, held);
  state.count[slot] = count;
  for (const at of out) state.slotOf[stops[at]!] = slot;
  state.version[slot] = version;
  return least === null ? null : least - state.slotCents[slot]! + displacedCents - valueCents[block]!;
}
