import { createInsertions, insertAt, insertionCents, promise } from "../../../../services/solver/insertion.ts";
import { pickIndex, type Random } from "../../../../services/solver/random.ts";
import { clearStops, cut } from "../../../../services/solver/removal.ts";
import type { DayRun, RouteProblem, State } from "../../../../services/solver/routes.ts";
import { clearShelf, createShelf, keepSlot, putBack, type Shelf } from "../../../../services/solver/shelf.ts";
import { createDayRun, createState, setOutfit } from "../../../../services/solver/state.ts";
import { seededRandom } from "../../../support/seededRandom.ts";
import { stopsOf } from "./evaluateSlot.ts";

/** A state without rules of its own that is pushed about at random, every slot on the shelf before it is changed. */
export interface World {
  readonly state: State;
  readonly shelf: Shelf;
  readonly run: DayRun;
  readonly random: Random;
}

/** What was done, and what the slot held before. */
export type Move =
  | {
      readonly kind: "insert" | "refused";
      slot: number;
      before: number[];
      block: number;
      at: number;
      promises: Promises;
    }
  | { readonly kind: "cut"; slot: number; before: number[]; rest: number[] }
  | { readonly kind: "clear"; slot: number; before: number[] }
  | { readonly kind: "putBack" }
  | { readonly kind: "keep" };

/** What a block would add to a slot's cost at each place, and the search's choice among them. */
export interface Promises {
  readonly cents: number[];
  readonly best: { readonly place: number; readonly cents: number };
}

export function createWorld(routes: RouteProblem, seed: number): World {
  const state = createState(routes);
  const shelf = createShelf(state);
  clearShelf(state, shelf);
  return { state, shelf, run: createDayRun(routes.stride), random: seededRandom(seed) };
}

/** Worked out anew, nothing remembered. */
export function promisesOf(state: State, block: number, slot: number): Promises {
  const insertions = createInsertions(state.routes);
  // A block that is refused at once leaves these as they are.
  const promised = new Float64Array(state.count[slot]! + 1).fill(Number.POSITIVE_INFINITY);
  promise(state, promised, block, slot);
  const cents = insertionCents(state, insertions, block, slot);
  return {
    cents: Array.from(promised),
    best: { place: insertions.place[block * state.routes.slotCount + slot]!, cents },
  };
}

/** One move: most put a block in, at any place that is promised, however dear. */
export function moveAtRandom(world: World): Move {
  const { state, shelf, run, random } = world;
  const { routes } = state;
  const draw = random();
  if (draw < 0.06) {
    putBack(state, shelf, shelf.slots);
    clearShelf(state, shelf);
    return { kind: "putBack" };
  }
  if (draw < 0.1) {
    clearShelf(state, shelf);
    return { kind: "keep" };
  }
  const slot = pickIndex(random, routes.slotCount);
  const before = stopsOf(state, slot);
  const out = Array.from(state.slotOf.keys()).filter((block) => state.slotOf[block]! < 0);
  if (draw < 0.8 && out.length > 0) {
    if (before.length === 0) {
      keepSlot(state, shelf, slot);
      setOutfit(state, slot, { profile: pickIndex(random, routes.profiles.length) });
    }
    const block = out[pickIndex(random, out.length)]!;
    const at = pickIndex(random, before.length + 1);
    const promises = promisesOf(state, block, slot);
    const move = { slot, before, block, at, promises };
    if (promises.cents[at] === Number.POSITIVE_INFINITY) return { kind: "refused", ...move };
    keepSlot(state, shelf, slot);
    insertAt(state, run, slot, block, at);
    return { kind: "insert", ...move };
  }
  keepSlot(state, shelf, slot);
  if (before.length === 0 || draw > 0.98) {
    clearStops(state, slot);
    return { kind: "clear", slot, before };
  }
  const first = pickIndex(random, before.length);
  const length = 1 + pickIndex(random, Math.min(3, before.length - first));
  const kept = length > 2 ? 1 : 0;
  const keptFirst = first + kept;
  cut(state, run, slot, first, length, keptFirst, kept);
  const rest = before.filter(
    (_, at) => at < first || at >= first + length || (at >= keptFirst && at < keptFirst + kept),
  );
  return { kind: "cut", slot, before, rest };
}
