import { createInsertions } from "./insertion.ts";
import { moveNight } from "./nightMoves.ts";
import { settleNights } from "./nights.ts";
import { createRoutePool, type Polish, polish, poolSlots } from "./polish.ts";
import { pickIndex, type Random, shuffle } from "./random.ts";
import { openWith, pickFrom, type Recreation, recreate } from "./recreate.ts";
import type { RouteProblem, State } from "./routes.ts";
import { type RuinShares, ruin } from "./ruin.ts";
import { clearShelf, copySlots, createShelf, keepSlot, putBack, type Shelf } from "./shelf.ts";
import { createState, setOutfit, totalCents, touch } from "./state.ts";
import { exchangeTails } from "./tails.ts";

export interface Progress {
  readonly iterations: number;
  /** Share of the search that is done, 0 to 1. */
  readonly share: number;
  readonly servedHa: number;
  readonly totalCents: number;
}

/** How the search goes; all our choice, by trial. */
export interface SearchSettings extends RuinShares {
  /** First and last temperature as shares of what a planned stop costs on average in the first plan. */
  readonly firstTemperature: number;
  readonly lastTemperature: number;
  /** First temperature of a search that starts from a plan, which is not to be lost. */
  readonly warmTemperature: number;
  /** Share of iterations that try to open an empty slot with a group of unplanned blocks. */
  readonly openShare: number;
  /** Share of iterations of a plain problem in which two slots exchange the ends of their routes instead. */
  readonly tailShare: number;
}

/** Other searches on the same problem. */
export interface Exchange {
  /** The best plan so far, to be looked at until the call returns. Asked after every iteration, as `take` is, so they have to be quick. */
  offer(best: Shelf, cents: number): void;
  /** Fills the shelf with another search's plan that costs less than the best of this one, which then goes on from it; false when there is none or it is not time. */
  take(into: Shelf, cents: number, share: number): boolean;
  /** Fills the shelf with a plan of another search that was not heard before, whatever it costs, for its routes; false when there is no other. */
  hear(into: Shelf): boolean;
}

/** Time and chance are handed in. */
export interface SolveControls {
  readonly random: Random;
  /** How far the search is after so many iterations: by count, by clock, or 1 to stop it. */
  readonly doneShare: (iterations: number) => number;
  readonly onProgress?: (progress: Progress) => void;
  readonly settings?: Partial<SearchSettings>;
  /** Puts the best routes of many plans together; left out, that is not done. */
  readonly polish?: Polish;
  readonly exchange?: Exchange;
}

const usual: SearchSettings = {
  firstTemperature: 1,
  lastTemperature: 0.01,
  warmTemperature: 0.1,
  wholeShare: 0.35,
  exchangeShare: 0.1,
  openShare: 0.1,
  tailShare: 0.1,
};

/** Stops of a route above which temperatures rise with its length; how far the last one does in plans of few stops. Our choice, by trial. */
const longRoute = 10;
const fewStops = 500;
const warmestEnd = 3;

/** Empty classes of slots and unplanned blocks away from the ruin that are tried beside, so that the work of an iteration does not grow with the operation. Our choice. */
const otherEmptySlots = 6;
const otherBlocks = 60;
const otherPlainBlocks = 15;

/** Share of iterations that let a crew sleep elsewhere, where crews may. Our choice. */
const nightShare = 0.05;

/** Share of iterations in which blocks may cost up to twice what they are worth, so that some go in that only together pay. Our choice, by trial. */
const dearShare = 0.05;

/** When the routes of plans within so much of the best are put together anew. Our choice, by trial. */
const polishAt = [0.5, 0.9, Number.POSITIVE_INFINITY];
const pooledWithin = 0.01;

/**
 * Ruin and recreate with simulated annealing (Christiaens & Vanden Berghe 2020, "Slack Induction by String Removals for Vehicle Routing Problems",
 * Transportation Science 54) over slots whose outfits are drawn again whenever a slot is empty. From a state with stops it goes on: what it gives never costs more.
 */
export function solve(
  routes: RouteProblem,
  controls: SolveControls,
  state = createState(routes),
): { state: State; iterations: number } {
  const { random, doneShare, onProgress, exchange } = controls;
  const settings = { ...usual, ...controls.settings };
  const hasStart = state.planned > 0;
  // What is locked is there from the first; a plan is more than that.
  const isWarm = state.planned > (routes.lockedCents?.reduce((count, cents) => count + Math.sign(cents), 0) ?? 0);
  const firstTemperature = isWarm ? settings.warmTemperature : settings.firstTemperature;
  const shelf = createShelf(state);
  const best = createShelf(state);
  const recreation: Recreation = {
    insertions: createInsertions(routes),
    keys: new Float64Array(routes.blockCount),
    seen: new Int32Array(routes.slotCount),
    stamp: 0,
    candidates: [],
    untilBlink: 0,
    mostPerValue: 1,
  };
  const everySlot = Array.from({ length: routes.slotCount }, (_, slot) => slot);
  const removed: number[] = [];
  const left: number[] = [];
  const fill = (blocks: number[], empty: number[], mostCents = Number.POSITIVE_INFINITY): boolean => {
    if (state.rules !== null) {
      for (const slot of empty) {
        keepSlot(state, shelf, slot);
        setOutfit(state, slot, null);
      }
      for (const slot of empty) setOutfit(state, slot, state.pool.propose(slot, random));
    }
    left.length = 0;
    if (!recreate(state, recreation, blocks, empty, random, shelf, left, mostCents)) return false;
    if (random() < settings.openShare) {
      const first = pickFrom(left, random);
      const slot = pickFrom(
        empty.filter((one) => state.count[one] === 0 && state.outfit[one] !== null),
        random,
      );
      if (first >= 0 && slot >= 0)
        openWith(state, recreation, slot, first, shelf, state.plain !== null, state.plain === null ? 0 : mostCents);
    }
    settleNights(state, shelf, recreation.insertions.run);
    releaseIdle(state, shelf);
    return true;
  };

  if (state.rules === null) for (const slot of everySlot) setOutfit(state, slot, state.pool.propose(slot, random));
  const toOpen = routes.twins.map((slots) => slots[0]!);
  shuffle(toOpen, random);
  clearShelf(state, shelf);
  const startCents = totalCents(state);
  fill(
    routes.open.filter((block) => state.slotOf[block]! < 0),
    toOpen.filter((slot) => state.count[slot] === 0),
  );
  if (hasStart && totalCents(state) > startCents) putBack(state, shelf, shelf.slots);
  copySlots(state, best, everySlot);
  let currentCents = totalCents(state);
  let bestCents = currentCents;
  // On long routes a stop is little of what giving up a route would cost; where there are few stops, they are still moved about at the end.
  const length = lengthOf(state);
  const scale = state.planned === 0 ? 1 : (length * state.slotsCents) / state.planned;
  const lastTemperature = settings.lastTemperature * (state.planned <= fewStops ? Math.min(warmestEnd, length) : 1);
  const report = (iterations: number, share: number) =>
    onProgress?.({ iterations, share, servedHa: servedHa(best.kept), totalCents: bestCents });

  // Slots that were changed since the best.
  const changed: number[] = [];
  const isChanged = new Uint8Array(routes.slotCount);
  const routePool = createRoutePool(state);
  let polished = 0;
  const keepBest = () => {
    if (currentCents >= bestCents - 1e-6) return;
    bestCents = currentCents;
    copySlots(state, best, changed);
    for (const slot of changed) isChanged[slot] = 0;
    changed.length = 0;
    report(iterations + 1, share);
  };
  const changeAll = () => {
    for (const slot of everySlot) if (isChanged[slot] === 0) changed.push(slot);
    isChanged.fill(1);
  };
  // In an operation what is put in can make up for more than it is worth: nights are settled after it, and groups of blocks go in together.
  const givesUp = state.rules === null || state.rules.promise !== undefined;
  let iterations = 0;
  let share = routes.open.length === 0 ? 1 : doneShare(0);
  report(0, share);
  exchange?.offer(best, bestCents);
  while (share < 1) {
    clearShelf(state, shelf);
    removed.length = 0;
    const seed = routes.open[pickIndex(random, routes.open.length)]!;
    const temperature = scale * firstTemperature * (lastTemperature / firstTemperature) ** share;
    const mostCents = currentCents - temperature * Math.log(random());
    let isFilled: boolean;
    if (state.plain !== null && random() < settings.tailShare) {
      isFilled = exchangeTails(state, state.plain, seed, mostCents - currentCents, random, shelf);
    } else {
      if (routes.nights.length > 0 && random() < nightShare) {
        moveNight(state, seed, random, shelf, recreation.insertions, removed);
      } else ruin(state, seed, settings, random, shelf, recreation.insertions.run, removed);
      addUnplanned(state, seed, random, recreation, removed);
      recreation.mostPerValue = random() < dearShare ? 1 + random() : 1;
      isFilled = fill(removed, emptySlots(state, shelf, random), givesUp ? mostCents : undefined);
    }
    const cents = isFilled ? totalCents(state) : mostCents;
    if (cents < mostCents) {
      currentCents = cents;
      if (controls.polish !== undefined && cents < bestCents * (1 + pooledWithin))
        poolSlots(state, routePool, shelf.slots);
      for (const slot of shelf.slots) {
        if (isChanged[slot] === 0) changed.push(slot);
        isChanged[slot] = 1;
      }
      keepBest();
    } else {
      putBack(state, shelf, shelf.slots);
    }
    iterations++;
    share = doneShare(iterations);
    if (controls.polish !== undefined && share < 1 && share >= polishAt[polished]!) {
      polished++;
      while (exchange?.hear(shelf)) poolSlots(shelf.kept, routePool, everySlot);
      clearShelf(state, shelf);
      for (const slot of everySlot) keepSlot(state, shelf, slot);
      const found = polish(state, routePool, best.kept, controls.polish, recreation.insertions.run);
      if (found) {
        const out = routes.open.filter((block) => state.slotOf[block]! < 0);
        fill(out, emptySlots(state, shelf, random));
      }
      if (found && totalCents(state) < bestCents * (1 + pooledWithin)) {
        currentCents = totalCents(state);
        changeAll();
        keepBest();
      } else {
        putBack(state, shelf, shelf.slots);
      }
    }
    exchange?.offer(best, bestCents);
    if (exchange?.take(shelf, bestCents, share)) {
      putBack(state, shelf, everySlot);
      for (const slot of everySlot) touch(state, slot);
      currentCents = totalCents(state);
      changeAll();
      if (controls.polish !== undefined) poolSlots(state, routePool, everySlot);
      keepBest();
    }
  }
  putBack(state, best, everySlot);
  report(iterations, 1);
  return { state, iterations };
}

/** How many times longer routes are than those from which on they count as long; in an operation they never are. */
function lengthOf({ rules, planned, busy }: State): number {
  return rules === null && busy > 0 ? Math.max(1, planned / busy / longRoute) : 1;
}

/** Outfits of slots that stand empty go back to the pools. */
function releaseIdle(state: State, shelf: Shelf): void {
  if (state.rules === null) return;
  for (const slot of shelf.slots) if (state.count[slot] === 0) setOutfit(state, slot, null);
}

/** Slots that stand empty: those that were just emptied, and one each of a few classes. */
function emptySlots({ routes, count }: State, shelf: Shelf, random: Random): number[] {
  const empty = shelf.slots.filter((slot) => count[slot] === 0);
  const { twins } = routes;
  const tries = Math.min(otherEmptySlots, twins.length);
  for (let i = 0; i < tries; i++) {
    const slots = twins[twins.length <= otherEmptySlots ? i : pickIndex(random, twins.length)]!;
    for (let j = 0; j < slots.length; j++) {
      const slot = slots[j]!;
      if (count[slot] !== 0) continue;
      if (!empty.includes(slot)) empty.push(slot);
      break;
    }
  }
  return empty;
}

/** Blocks to be put in beside those that were just taken out: the unplanned near the seed, and a few of the others. */
function addUnplanned(state: State, seed: number, random: Random, recreation: Recreation, removed: number[]): void {
  const { routes, slotOf, planned } = state;
  if (planned + removed.length === routes.open.length) return;
  const { keys } = recreation;
  for (const block of removed) keys[block] = Number.NaN;
  const add = (block: number) => {
    if (slotOf[block]! >= 0 || Number.isNaN(keys[block]!) || routes.slotsOfBlock[block]!.length === 0) return;
    keys[block] = Number.NaN;
    removed.push(block);
  };
  add(seed);
  for (const block of routes.neighbours[seed]!) add(block);
  const others = state.plain === null ? otherBlocks : otherPlainBlocks;
  for (let draw = 0; draw < others; draw++) add(routes.open[pickIndex(random, routes.open.length)]!);
  for (const block of removed) keys[block] = 0;
}

function servedHa({ routes, sequence, count }: State): number {
  let areaHa = 0;
  for (let slot = 0; slot < routes.slotCount; slot++) {
    for (let at = 0; at < count[slot]!; at++) areaHa += routes.areaHa[sequence[slot * routes.stride + at]!]!;
  }
  return areaHa;
}
