import { createDayRun, type DayRun } from "./dayWalk.ts";
import type { Problem } from "./problem.ts";
import { type Random, shuffle } from "./random.ts";
import { bringUpToDate, createStandings, runDayWith, type Standings } from "./runDay.ts";
import { maxStops, type State, touch } from "./state.ts";

/** Share of places passed over at random, so that greedy insertion does not repeat itself (Christiaens & Vanden Berghe 2020, sec. 5.3). */
const blinkShare = 0.01;

/** Best place of a block in a slot, as worked out for one version of the slot. */
export interface InsertionCache {
  readonly version: Int32Array;
  readonly place: Int16Array;
  readonly cents: Float64Array;
  readonly standings: Standings;
}

export function createInsertionCache(problem: Problem): InsertionCache {
  const size = problem.blocks.length * problem.slots.length;
  return {
    version: new Int32Array(size).fill(-1),
    place: new Int16Array(size),
    cents: new Float64Array(size),
    standings: createStandings(problem),
  };
}

/** Ways of ordering the blocks to be put back, each drawn with its weight. */
type Ordering = "random" | "value" | "scarce" | "large";
const orderings: readonly { readonly by: Ordering; readonly weight: number }[] = [
  { by: "random", weight: 4 },
  { by: "value", weight: 4 },
  { by: "scarce", weight: 2 },
  { by: "large", weight: 1 },
];

function drawOrdering(random: Random): Ordering {
  let draw = random() * orderings.reduce((sum, { weight }) => sum + weight, 0);
  for (const { by, weight } of orderings) {
    draw -= weight;
    if (draw < 0) return by;
  }
  return "random";
}

function sortForInsertion(problem: Problem, blocks: number[], random: Random): void {
  shuffle(blocks, random);
  const by = drawOrdering(random);
  if (by === "value") blocks.sort((a, b) => problem.blocks[b]!.valueCents - problem.blocks[a]!.valueCents);
  if (by === "scarce") blocks.sort((a, b) => problem.openMin[a]! - problem.openMin[b]!);
  if (by === "large") blocks.sort((a, b) => problem.blocks[b]!.areaHa - problem.blocks[a]!.areaHa);
}

const run: DayRun = createDayRun();

/**
 * Put blocks back where they cost least, as long as that is less than they are worth. Slots that are to be changed are told to `beforeChange` first.
 * Blocks for which no place pays stay out.
 */
export function recreate(
  problem: Problem,
  state: State,
  cache: InsertionCache,
  blocks: number[],
  random: Random,
  beforeChange: (slot: number) => void,
): void {
  sortForInsertion(problem, blocks, random);
  for (const block of blocks) {
    for (let attempt = 0; attempt < 3; attempt++) {
      const slot = cheapestSlot(problem, state, cache, block, random);
      if (slot < 0) break;
      beforeChange(slot);
      const place = cache.place[block * problem.slots.length + slot]!;
      if (insertAt(problem, state, cache.standings, slot, block, place)) break;
      // Another crew's work on the field, or the crew's own other days, moved since this place was worked out.
      cache.version[block * problem.slots.length + slot] = -1;
    }
  }
}

function cheapestSlot(problem: Problem, state: State, cache: InsertionCache, block: number, random: Random): number {
  let best = -1;
  let bestCents = problem.blocks[block]!.valueCents;
  for (const slot of problem.slotsOfBlock[block]!) {
    if (state.kit[slot] === null || random() < blinkShare) continue;
    const cents = insertionCents(problem, state, cache, block, slot);
    if (cents < bestCents) {
      bestCents = cents;
      best = slot;
    }
  }
  return best;
}

/** What the best place in the slot adds to its cost; infinite when there is none. */
function insertionCents(problem: Problem, state: State, cache: InsertionCache, block: number, slot: number): number {
  const at = block * problem.slots.length + slot;
  if (cache.version[at] === state.version[slot]) return cache.cents[at]!;
  const kit = state.kit[slot]!;
  let bestCents = Number.POSITIVE_INFINITY;
  let bestPlace = -1;
  if (problem.work.minutes(block, kit.signature) > 0 && bringUpToDate(problem, state, cache.standings, slot)) {
    for (let place = 0; place <= state.count[slot]!; place++) {
      if (!runDayWith(problem, state, cache.standings, slot, block, place, run)) continue;
      const cents = run.cents - state.slotCents[slot]!;
      if (cents < bestCents) {
        bestCents = cents;
        bestPlace = place;
      }
    }
  }
  cache.version[at] = state.version[slot]!;
  cache.place[at] = bestPlace;
  cache.cents[at] = bestCents;
  return bestCents;
}

/** Put a block into a slot with a kit, if it still runs there. */
export function insertAt(
  problem: Problem,
  state: State,
  standings: Standings,
  slot: number,
  block: number,
  place: number,
): boolean {
  standings.version[slot] = -1;
  if (!bringUpToDate(problem, state, standings, slot)) return false;
  if (!runDayWith(problem, state, standings, slot, block, place, run)) return false;
  keepRun(state, slot, run);
  state.slotOf[block] = slot;
  const order = problem.blocks[block]!.order;
  state.plannedOfOrder[order] = state.plannedOfOrder[order]! + 1;
  return true;
}

/** Take a run as the slot's stops and times. The stops' own `slotOf` is the caller's. */
export function keepRun(state: State, slot: number, kept: DayRun): void {
  for (let i = 0; i < kept.count; i++) {
    const stop = kept.stops[i]!;
    state.sequence[slot * maxStops + i] = stop;
    state.startMin[stop] = kept.starts[i]!;
    state.endMin[stop] = kept.ends[i]!;
  }
  state.count[slot] = kept.count;
  state.leaveMin[slot] = kept.leaveMin;
  state.backMin[slot] = kept.backMin;
  state.slotCents[slot] = kept.cents;
  touch(state, slot);
}
