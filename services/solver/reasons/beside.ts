import type { Problem } from "../problem.ts";
import type { State } from "../routes.ts";
import { createState, setOutfit, touch } from "../state.ts";
import { type TryOn, tryBlock, tryOn } from "../trial.ts";
import { smallestBlockingSets } from "./blockingSets.ts";

/** Our choice: so often a block is tried beside others. */
const mostAsked = 60;

/** A week to fill with some blocks and to empty again: to make one anew takes as long as many trials. */
export interface BesideWeek {
  readonly empty: TryOn;
  readonly state: State;
}

export function createBesideWeek(problem: Problem, empty: TryOn): BesideWeek {
  return { empty, state: createState(problem.routes) };
}

/** Smallest sets of groups of planned blocks beside which, at the times that the plan has them, a block does not fit; none where it fits beside all of them. */
export function blockingStops(
  problem: Problem,
  state: State,
  week: BesideWeek,
  block: number,
  groups: readonly (readonly number[])[],
): { readonly sets: readonly (readonly number[])[]; readonly isAll: boolean } {
  const fits = (isGone: readonly boolean[]) => {
    const slots = putIn(problem, state, week.state, new Set(groups.flatMap((group, at) => (isGone[at] ? [] : group))));
    const found = tryBlock(problem, besideBlocks(problem, week), block, true);
    takeOut(problem, week.state, slots);
    return found !== null;
  };
  if (fits(groups.map(() => false))) return { sets: [], isAll: true };
  if (groups.length === 1) return { sets: [[0]], isAll: true };
  return smallestBlockingSets(groups.length, fits, mostAsked) ?? { sets: [], isAll: true };
}

/** Put blocks into an empty week, with the kits and at the times that the plan has; tells the slots. */
function putIn(problem: Problem, state: State, only: State, blocks: ReadonlySet<number>): number[] {
  const { stride } = problem.routes;
  const slots = [...new Set([...blocks].map((block) => state.slotOf[block]!))].filter((slot) => slot >= 0);
  for (const slot of slots) {
    only.startPlace[slot] = state.startPlace[slot]!;
    only.endPlace[slot] = state.endPlace[slot]!;
    setOutfit(only, slot, state.outfit[slot]!);
    for (let at = 0; at < state.count[slot]!; at++) {
      const stop = state.sequence[slot * stride + at]!;
      if (!blocks.has(stop)) continue;
      only.sequence[slot * stride + only.count[slot]!] = stop;
      only.count[slot] = only.count[slot]! + 1;
      only.slotOf[stop] = slot;
      only.startMin[stop] = state.startMin[stop]!;
      only.endMin[stop] = state.endMin[stop]!;
    }
    only.leaveMin[slot] = state.leaveMin[slot]!;
    only.backMin[slot] = state.backMin[slot]!;
    touch(only, slot);
  }
  return slots;
}

function takeOut({ routes }: Problem, only: State, slots: readonly number[]): void {
  for (const slot of slots) {
    for (let at = 0; at < only.count[slot]!; at++) only.slotOf[only.sequence[slot * routes.stride + at]!] = -1;
    only.count[slot] = 0;
    only.startPlace[slot] = routes.startPlace[slot]!;
    only.endPlace[slot] = routes.endPlace[slot]!;
    setOutfit(only, slot, null);
    touch(only, slot);
  }
}

/** To be tried on that week. Where a base has nothing out, its crews have the kits of an empty week. */
function besideBlocks(problem: Problem, { state: only, empty }: BesideWeek): TryOn {
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
