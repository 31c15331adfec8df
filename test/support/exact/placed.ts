import { chain } from "../../../services/solver/chains.ts";
import type { Problem } from "../../../services/solver/problem.ts";
import type { State } from "../../../services/solver/routes.ts";
import { createState, setOutfit, touch } from "../../../services/solver/state.ts";
import type { Chosen } from "./choose.ts";

/** Routes as a state of the search, with the times that they were walked with. */
export function placed(problem: Problem, chosen: readonly Chosen[]): State {
  const state = createState(problem.routes);
  const { stride, valueCents } = problem.routes;
  for (const { route, kit } of chosen) {
    const { slot, run } = route;
    setOutfit(state, slot, kit);
    state.sequence.set(run.stops, slot * stride);
    state.count[slot] = run.count;
    for (const block of run.stops) {
      state.slotOf[block] = slot;
      state.unservedCents -= valueCents[block]!;
      state.planned++;
      problem.routes.ask(kit.profile, block);
    }
    chain(state, slot, run);
    state.busy++;
    touch(state, slot);
  }
  return state;
}
