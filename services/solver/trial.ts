import { promise } from "./insertion.ts";
import { canWork, kindFor } from "./kinds.ts";
import { freeKits, kitOf } from "./kits.ts";
import type { Kit, Problem } from "./problem.ts";
import type { DayRun, State } from "./routes.ts";
import { createDayRun, setOutfit } from "./state.ts";
import { windowOverlap } from "./windowOverlap.ts";

/** Where a block could go, and what that would add to the cost. */
export interface Trial {
  readonly slot: number;
  readonly kit: Kit;
  readonly place: number;
  readonly cents: number;
}

/** A state to try blocks on, and what stays true of it as long as nothing is put in or taken out. */
export interface TryOn {
  readonly state: State;
  /** Kits that the pools still hold for an empty slot, the first of those with one profile: the others would do no better. */
  readonly kitsOf: (slot: number) => readonly Kit[];
  readonly kits: Map<number, readonly Kit[]>;
  /** The cheapest place for each block that was asked for. */
  readonly cheapest: Map<number, Trial | null>;
  /** What the chains promise of each place of a slot. */
  readonly promised: Float64Array;
  /** Whether the chains of slots with stops are true. */
  readonly hasChains: boolean;
  readonly run: DayRun;
}

export function tryOn(problem: Problem, state: State, hasChains = true): TryOn {
  const { stride } = problem.routes;
  const kits = new Map<number, readonly Kit[]>();
  return {
    state,
    kitsOf: (slot) => {
      const known = kits.get(slot) ?? firstOfProfiles(freeKits(problem, state, slot));
      kits.set(slot, known);
      return known;
    },
    kits,
    cheapest: new Map(),
    promised: new Float64Array(stride),
    hasChains,
    run: createDayRun(stride),
  };
}

/** Forget what is no longer true once a slot has taken up a block: all trials, and the kits of its base on its days. */
export function forgetAbout(problem: Problem, { kits, cheapest }: TryOn, slot: number): void {
  cheapest.clear();
  const { crew, days } = problem.slots[slot]!;
  for (const other of [...kits.keys()]) {
    const { crew: otherCrew, days: otherDays } = problem.slots[other]!;
    const isSameBase = problem.baseOfCrew[otherCrew] === problem.baseOfCrew[crew];
    if (isSameBase && otherDays.some((day) => days.includes(day))) kits.delete(other);
  }
}

function firstOfProfiles(kits: readonly Kit[]): Kit[] {
  const seen = new Set<number>();
  return kits.filter(({ profile }) => {
    if (seen.has(profile)) return false;
    seen.add(profile);
    return true;
  });
}

/**
 * The cheapest place for an unplanned block in a state as it stands: between the stops of any crew-day, or on an empty one with any kit that the pools still
 * hold. With `anyPlace` the first that holds. The state is left as it was, versions apart.
 */
export function tryBlock(problem: Problem, present: TryOn, block: number, anyPlace: boolean): Trial | null {
  const known = present.cheapest.get(block);
  if (known !== undefined && !anyPlace) return known;
  const found = tryAll(problem, present, block, anyPlace);
  if (!anyPlace) present.cheapest.set(block, found);
  return found;
}

function tryAll(problem: Problem, present: TryOn, block: number, anyPlace: boolean): Trial | null {
  const { state, kitsOf } = present;
  let best: Trial | null = null;
  for (const slot of problem.slotsOfBlock[block]!) {
    const kit = kitOf(state, slot);
    if (kit !== null) {
      best = better(best, tryKit(problem, present, block, slot, kit));
    } else {
      for (const free of kitsOf(slot)) {
        // Without an hour of the shift in a window nothing need be known of the minutes.
        const { option, signature } = kindFor(problem, free, block);
        if (windowOverlap(problem, problem.blocks[block]!.ground, option.type, slot) === 0) continue;
        if (problem.work.minutes(block, signature) === 0) continue;
        setOutfit(state, slot, free);
        best = better(best, tryKit(problem, present, block, slot, free));
        setOutfit(state, slot, null);
        if (anyPlace && best !== null) break;
      }
    }
    if (anyPlace && best !== null) break;
  }
  return best;
}

/** The cheapest place in a slot with a kit; places that the chains forbid are not run through all rules. */
function tryKit(
  problem: Problem,
  { state, promised, hasChains, run }: TryOn,
  block: number,
  slot: number,
  kit: Kit,
): Trial | null {
  if (!canWork(problem, kit, block)) return null;
  const count = state.count[slot]!;
  const isJudged = hasChains || count === 0;
  if (isJudged && promise(state, promised, block, slot) < 0) return null;
  let best: Trial | null = null;
  for (let place = 0; place <= count; place++) {
    if (isJudged && promised[place] === Number.POSITIVE_INFINITY) continue;
    if (!state.rules!.run(slot, block, place, run)) continue;
    const cents = run.cents - state.slotCents[slot]!;
    if (best === null || cents < best.cents) best = { slot, kit, place, cents };
  }
  return best;
}

function better(best: Trial | null, next: Trial | null): Trial | null {
  return next !== null && (best === null || next.cents < best.cents) ? next : best;
}
