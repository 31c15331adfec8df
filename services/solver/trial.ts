import { freeKits, kitOf } from "./kits.ts";
import type { Kit, Problem } from "./problem.ts";
import { createDayRun, type State, setOutfit } from "./state.ts";

/** Where a block could go, and what that would add to the cost. */
export interface Trial {
  readonly slot: number;
  readonly kit: Kit;
  readonly place: number;
  readonly cents: number;
}

/**
 * The cheapest place for an unplanned block in a state as it stands: between the stops of any crew-day, or on an empty one with any kit that the pools still
 * hold. With `anyPlace` the first that holds. The state is left as it was, versions apart.
 */
export function tryBlock(problem: Problem, state: State, block: number, anyPlace: boolean): Trial | null {
  const run = createDayRun(problem.routes.stride);
  let best: Trial | null = null;
  const tryKit = (slot: number, kit: Kit) => {
    if (problem.work.minutes(block, kit.signature) === 0) return;
    for (let place = 0; place <= state.count[slot]!; place++) {
      if (!state.rules!.run(slot, block, place, run)) continue;
      const cents = run.cents - state.slotCents[slot]!;
      if (best === null || cents < best.cents) best = { slot, kit, place, cents };
    }
  };
  for (const slot of problem.slotsOfBlock[block]!) {
    const kit = kitOf(state, slot);
    if (kit !== null) {
      tryKit(slot, kit);
    } else {
      for (const free of freeKits(problem, state, slot)) {
        setOutfit(state, slot, free);
        tryKit(slot, free);
        setOutfit(state, slot, null);
        if (anyPlace && best !== null) break;
      }
    }
    if (anyPlace && best !== null) break;
  }
  return best;
}
