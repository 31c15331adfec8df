import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { createState, setOutfit } from "../state.ts";
import { type TryOn, tryBlock, tryOn } from "../trial.ts";
import { smallestBlockingSets } from "./blockingSets.ts";

/** Our choice: so often a block is tried beside others. */
const mostAsked = 60;

/** Smallest sets of groups of planned blocks beside which, at the times that the plan has them, a block does not fit; none where it fits beside all of them. */
export function blockingStops(
  problem: Problem,
  state: State,
  empty: TryOn,
  block: number,
  groups: readonly (readonly number[])[],
): { readonly sets: readonly (readonly number[])[]; readonly isAll: boolean } {
  const fits = (isGone: readonly boolean[]) => {
    const blocks = new Set(groups.flatMap((group, at) => (isGone[at] ? [] : group)));
    return tryBlock(problem, besideBlocks(problem, state, empty, blocks), block, true) !== null;
  };
  if (fits(groups.map(() => false))) return { sets: [], isAll: true };
  if (groups.length === 1) return { sets: [[0]], isAll: true };
  return smallestBlockingSets(groups.length, fits, mostAsked) ?? { sets: [], isAll: true };
}

/** An empty week but for these blocks, with the kits and at the times that the plan has. */
function onlyBlocks(problem: Problem, state: State, blocks: ReadonlySet<number>): State {
  const { stride } = problem.routes;
  const only = createState(problem.routes);
  only.startPlace.set(state.startPlace);
  only.endPlace.set(state.endPlace);
  for (let slot = 0; slot < problem.slots.length; slot++) {
    for (let at = 0; at < state.count[slot]!; at++) {
      const stop = state.sequence[slot * stride + at]!;
      if (!blocks.has(stop)) continue;
      if (only.outfit[slot] === null) setOutfit(only, slot, state.outfit[slot]!);
      only.sequence[slot * stride + only.count[slot]!] = stop;
      only.count[slot] = only.count[slot]! + 1;
      only.slotOf[stop] = slot;
      only.startMin[stop] = state.startMin[stop]!;
      only.endMin[stop] = state.endMin[stop]!;
    }
    only.leaveMin[slot] = state.leaveMin[slot]!;
    only.backMin[slot] = state.backMin[slot]!;
  }
  return only;
}

/** To be tried on that week. Where a base has nothing out, its crews have the kits of an empty week. */
function besideBlocks(problem: Problem, state: State, empty: TryOn, blocks: ReadonlySet<number>): TryOn {
  const only = onlyBlocks(problem, state, blocks);
  const days = problem.calendar.dates.length;
  const isOut = new Uint8Array(problem.operation.settings.bases.length * days);
  const basesDays = (slot: number) => {
    const { crew, days: away } = problem.slots[slot]!;
    return away.map((day) => problem.baseOfCrew[crew]! * days + day);
  };
  problem.slots.forEach((_, slot) => {
    if (only.outfit[slot] !== null) for (const at of basesDays(slot)) isOut[at] = 1;
  });
  const beside = tryOn(problem, only, false);
  const isLikeEmpty = (slot: number) => basesDays(slot).every((at) => isOut[at] === 0);
  return { ...beside, kitsOf: (slot) => (isLikeEmpty(slot) ? empty : beside).kitsOf(slot) };
}
