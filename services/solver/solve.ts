import { proposeKits, releaseIdleKits } from "./kits.ts";
import type { Problem } from "./problem.ts";
import { pickIndex, type Random, shuffle } from "./random.ts";
import { createInsertionCache, insertAt, recreate } from "./recreate.ts";
import { ruin } from "./ruin.ts";
import { copySlot, createState, restoreSlots, type SlotCopy, type State, setKit } from "./state.ts";
import { tryBlock, tryOn } from "./trial.ts";

export interface Progress {
  readonly iterations: number;
  /** Share of the search that is done, 0 to 1. */
  readonly share: number;
  readonly servedHa: number;
  readonly totalCents: number;
}

/** Time and chance are handed in. */
export interface SolveControls {
  readonly random: Random;
  /** How far the search is after so many iterations: by count, by clock, or 1 to stop it. */
  readonly doneShare: (iterations: number) => number;
  readonly onProgress?: (progress: Progress) => void;
}

/** First and last temperature as shares of the median value of a block. Our choice, by trial on the demo and generated weeks. */
const firstTemperatureShare = 1.2;
const lastTemperatureShare = 0.005;

/** Empty slots and unplanned blocks away from the ruin that are tried beside, so that the work of an iteration does not grow with the operation. Our choice. */
const otherEmptySlots = 6;
const otherBlocks = 60;

/**
 * Ruin and recreate with simulated annealing (Christiaens & Vanden Berghe 2020, "Slack Induction by String Removals for Vehicle Routing Problems",
 * Transportation Science 54) over crew-days whose outfits are drawn again whenever a crew-day is empty.
 */
export function solve(problem: Problem, controls: SolveControls): { state: State; iterations: number } {
  const { random, doneShare, onProgress } = controls;
  const state = createState(problem);
  const cache = createInsertionCache(problem);
  const everySlot = problem.slots.map((_, slot) => slot);
  const changed = new Map<number, SlotCopy>();
  const beforeChange = (slot: number) => {
    if (!changed.has(slot)) changed.set(slot, copySlot(state, slot));
  };
  const fill = (slots: readonly number[], blocks: number[]) => {
    for (const slot of slots) beforeChange(slot);
    proposeKits(problem, state, slots, random);
    recreate(problem, state, cache, blocks, random, beforeChange);
    releaseIdleKits(problem, state);
  };

  shuffle(everySlot, random);
  fill(everySlot, [...problem.open]);
  let currentCents = totalCents(problem, state);
  let bestCents = currentCents;
  let best = everySlot.map((slot) => copySlot(state, slot));
  const values = problem.open.map((block) => problem.blocks[block]!.valueCents).sort((a, b) => a - b);
  const medianCents = values[values.length >> 1] ?? 0;
  const report = (iterations: number, share: number) =>
    onProgress?.({ iterations, share, servedHa: servedHa(problem, best), totalCents: bestCents });

  let iterations = 0;
  let share = problem.open.length === 0 ? 1 : doneShare(0);
  report(0, share);
  while (share < 1) {
    changed.clear();
    const seed = problem.open[pickIndex(random, problem.open.length)]!;
    ruin(problem, state, seed, random, beforeChange);
    fill(someEmptySlots(problem, state, changed, random), someUnplannedBlocks(problem, state, changed, seed, random));
    const cents = totalCents(problem, state);
    const temperature = medianCents * firstTemperatureShare * (lastTemperatureShare / firstTemperatureShare) ** share;
    if (cents < currentCents - temperature * Math.log(random())) {
      currentCents = cents;
      if (cents < bestCents - 1e-6) {
        bestCents = cents;
        best = everySlot.map((slot) => copySlot(state, slot));
        report(iterations + 1, share);
      }
    } else {
      restoreSlots(problem, state, [...changed.values()]);
    }
    iterations++;
    share = doneShare(iterations);
  }
  restoreSlots(problem, state, best);
  if (insertWhatStillPays(problem, state)) {
    bestCents = totalCents(problem, state);
    best = everySlot.map((slot) => copySlot(state, slot));
  }
  report(iterations, 1);
  return { state, iterations };
}

/** The draws of the search may have passed over a kit or a place: nothing that pays is left out of a finished plan. True when something was put in. */
function insertWhatStillPays(problem: Problem, state: State): boolean {
  const present = tryOn(problem, state);
  let inserted = false;
  const byValue = problem.open
    .filter((block) => state.slotOf[block]! < 0)
    .sort((a, b) => problem.blocks[b]!.valueCents - problem.blocks[a]!.valueCents);
  for (const block of byValue) {
    const trial = tryBlock(problem, present, block, false);
    if (trial === null || trial.cents >= problem.blocks[block]!.valueCents) continue;
    const before = copySlot(state, trial.slot);
    const beforeCents = totalCents(problem, state);
    if (before.kit === null) setKit(problem, state, trial.slot, trial.kit);
    const holds = insertAt(problem, state, present.standings, trial.slot, block, trial.place);
    // A change of outfit may cost more than the block brings.
    if (holds && totalCents(problem, state) < beforeCents) inserted = true;
    else restoreSlots(problem, state, [before]);
  }
  return inserted;
}

/** Slots that stand empty: those that were just emptied, and a few of the others. */
function someEmptySlots(
  problem: Problem,
  state: State,
  changed: ReadonlyMap<number, SlotCopy>,
  random: Random,
): number[] {
  const emptied = [...changed.keys()].filter((slot) => state.count[slot] === 0);
  const others: number[] = [];
  for (let slot = 0; slot < problem.slots.length; slot++) {
    if (state.count[slot] === 0 && !changed.has(slot)) others.push(slot);
  }
  shuffle(others, random);
  const some = [...emptied, ...others.slice(0, otherEmptySlots)];
  shuffle(some, random);
  return some;
}

/** Blocks to be put in: those that were just taken out, the unplanned near them, and a few of the others. */
function someUnplannedBlocks(
  problem: Problem,
  state: State,
  changed: ReadonlyMap<number, SlotCopy>,
  seed: number,
  random: Random,
): number[] {
  const chosen = new Set<number>();
  const choose = (block: number) => {
    if (state.slotOf[block]! < 0 && problem.slotsOfBlock[block]!.length > 0) chosen.add(block);
  };
  for (const { stops } of changed.values()) for (const stop of stops) choose(stop);
  choose(seed);
  for (const block of problem.neighbours[seed]!) choose(block);
  for (let draw = 0; draw < otherBlocks; draw++) choose(problem.open[pickIndex(random, problem.open.length)]!);
  return [...chosen];
}

function servedHa(problem: Problem, copies: readonly SlotCopy[]): number {
  let areaHa = 0;
  for (const { stops } of copies) for (const block of stops) areaHa += problem.blocks[block]!.areaHa;
  return areaHa;
}

/** Unserved value, the slots' own cost and outfit changes. */
function totalCents(problem: Problem, state: State): number {
  let cents = 0;
  for (let block = 0; block < problem.blocks.length; block++) {
    if (state.slotOf[block]! < 0) cents += problem.blocks[block]!.valueCents;
  }
  for (let slot = 0; slot < problem.slots.length; slot++) cents += state.slotCents[slot]!;
  return cents + outfitChanges(problem, state) * problem.operation.settings.planning.outfitChangeCents;
}

function outfitChanges(problem: Problem, state: State): number {
  let changes = 0;
  for (const slots of problem.slotsOfCrew) {
    let before = -1;
    for (const slot of slots) {
      if (state.count[slot] === 0) continue;
      if (before >= 0 && !sameOutfit(state, before, slot)) changes++;
      before = slot;
    }
  }
  return changes;
}

function sameOutfit(state: State, a: number, b: number): boolean {
  const kitA = state.kit[a]!;
  const kitB = state.kit[b]!;
  return (
    kitA.tender === kitB.tender &&
    kitA.aircraft.length === kitB.aircraft.length &&
    kitA.aircraft.every((aircraft) => kitB.aircraft.includes(aircraft))
  );
}
