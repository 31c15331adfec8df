import { insertAt } from "./insertion.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { clearShelf, createShelf, keepSlot, putBack } from "./shelf.ts";
import { createDayRun, setOutfit, totalCents } from "./state.ts";
import { forgetAbout, type TryOn, tryBlock, tryOn } from "./trial.ts";

/** The draws of the search may have passed over a kit or a place: nothing that pays is left out of a finished plan. What was tried since the last block went in still holds. */
export function insertWhatStillPays(problem: Problem, state: State): TryOn {
  const { routes } = problem;
  const run = createDayRun(routes.stride);
  const shelf = createShelf(state);
  const present = tryOn(problem, state);
  const byValue = routes.open
    .filter((block) => state.slotOf[block]! < 0)
    .sort((a, b) => routes.valueCents[b]! - routes.valueCents[a]!);
  for (const block of byValue) {
    const trial = tryBlock(problem, present, block, false);
    if (trial === null || trial.cents >= routes.valueCents[block]!) continue;
    clearShelf(state, shelf);
    keepSlot(state, shelf, trial.slot);
    const beforeCents = totalCents(state);
    if (state.outfit[trial.slot] === null) setOutfit(state, trial.slot, trial.kit);
    const holds = insertAt(state, run, trial.slot, block, trial.place);
    // A change of outfit may cost more than the block brings.
    if (!holds || totalCents(state) >= beforeCents) putBack(state, shelf, shelf.slots);
    else forgetAbout(problem, present, trial.slot);
  }
  return present;
}
