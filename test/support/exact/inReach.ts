import { kitOf } from "../../../services/solver/kits.ts";
import type { Problem } from "../../../services/solver/problem.ts";
import type { State } from "../../../services/solver/routes.ts";
import { createDayRun, createState, setOutfit, touch } from "../../../services/solver/state.ts";

/** How stops are put into an empty day: as the search does it, without asking whether each pays when it is put in, or also where it is not the cheapest place. */
export const waysOfPutting = [
  "as the search does",
  "whether it pays or not",
  "at any place that pays",
  "at any place",
] as const;
export type WayOfPutting = (typeof waysOfPutting)[number];

/** Whether the stops of a slot, its outfit given, can be put in one after the other in some order so that they come to stand as they do. */
export function isInReach(problem: Problem, planned: State, slot: number, way: WayOfPutting): boolean {
  const { stride, valueCents } = problem.routes;
  const held = slot * stride;
  const stops = [...planned.sequence.subarray(held, held + planned.count[slot]!)];
  const mustPay = way === "as the search does" || way === "at any place that pays";
  const cheapest = way === "as the search does" || way === "whether it pays or not";
  const state = createState(problem.routes);
  const run = createDayRun(stride);
  setOutfit(state, slot, kitOf(planned, slot));

  const all = (1 << stops.length) - 1;
  const reached = new Uint8Array(all + 1);
  reached[0] = 1;
  for (let set = 0; set < all; set++) {
    if (reached[set] === 0) continue;
    const here = stops.filter((_, at) => (set & (1 << at)) !== 0);
    state.sequence.set(here, held);
    state.count[slot] = here.length;
    touch(state, slot);
    const nowCents = here.length === 0 ? 0 : state.rules!.run(slot, -1, 0, run) ? run.cents : Number.NaN;
    stops.forEach((block, at) => {
      if ((set & (1 << at)) !== 0) return;
      const costs = Array.from({ length: here.length + 1 }, (_, place) =>
        state.rules!.run(slot, block, place, run) ? run.cents - nowCents : Number.POSITIVE_INFINITY,
      );
      const own = stops.slice(0, at).filter((_, before) => (set & (1 << before)) !== 0).length;
      const costCents = costs[own]!;
      if (!Number.isFinite(costCents)) return;
      if (mustPay && costCents >= valueCents[block]!) return;
      if (cheapest && costCents > Math.min(...costs) + 1e-6) return;
      reached[set | (1 << at)] = 1;
    });
  }
  return reached[all] === 1;
}
