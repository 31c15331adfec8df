import { createDayRun } from "./dayWalk.ts";
import { freeKits } from "./kits.ts";
import type { Kit, Problem } from "./problem.ts";
import { bringUpToDate, createStandings, runDayWith, type Standings } from "./runDay.ts";
import { type State, setKit } from "./state.ts";

/** Where a block could go, and what that would add to the cost. */
export interface Trial {
  readonly slot: number;
  readonly kit: Kit;
  readonly place: number;
  readonly cents: number;
}

/** A state to try blocks on, with what is remembered of its slots from one trial to the next. */
export interface TryOn {
  readonly state: State;
  readonly standings: Standings;
}

export function tryOn(problem: Problem, state: State): TryOn {
  return { state, standings: createStandings(problem) };
}

/**
 * The cheapest place for an unplanned block in a state as it stands: between the stops of any crew-day, or on an empty one with any kit that the pools still
 * hold. With `anyPlace` the first that holds. The state is left as it was, versions apart.
 */
export function tryBlock(
  problem: Problem,
  { state, standings }: TryOn,
  block: number,
  anyPlace: boolean,
): Trial | null {
  const run = createDayRun();
  let best: Trial | null = null;
  const tryKit = (slot: number, kit: Kit) => {
    if (problem.work.minutes(block, kit.signature) === 0 || !bringUpToDate(problem, state, standings, slot)) return;
    for (let place = 0; place <= state.count[slot]!; place++) {
      if (!runDayWith(problem, state, standings, slot, block, place, run)) continue;
      const cents = run.cents - state.slotCents[slot]!;
      if (best === null || cents < best.cents) best = { slot, kit, place, cents };
    }
  };
  for (const slot of problem.slotsOfBlock[block]!) {
    const kit = state.kit[slot]!;
    if (kit !== null) {
      tryKit(slot, kit);
    } else {
      for (const free of freeKits(problem, state, slot)) {
        setKit(problem, state, slot, free);
        tryKit(slot, free);
        setKit(problem, state, slot, null);
        if (anyPlace && best !== null) break;
      }
    }
    if (anyPlace && best !== null) break;
  }
  return best;
}
