import { createMixed } from "./fillKit.ts";
import { kindsOf } from "./kinds.ts";
import { kitOf } from "./kits.ts";
import type { Kit, Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { copySlots, createShelf, putBack, type Shelf } from "./shelf.ts";
import { createState, openChain, totalCents } from "./state.ts";

/**
 * A plan of the search as plain numbers, so that it can be handed to another search on the same problem, compiled elsewhere: the outfits' things, the stops, and all times as
 * they stand, so that it need not be worked out again.
 */
export interface Snapshot {
  readonly totalCents: number;
  /** Of the crew-days, in the order of their slots. */
  readonly kits: readonly Kit[];
  readonly numbers: Float64Array;
}

export function takeSnapshot(problem: Problem, { kept, startAt, finishAt }: Shelf, cents: number): Snapshot {
  const { stride } = problem.routes;
  const kits: Kit[] = [];
  const numbers = [kept.unservedCents, kept.slotsCents, kept.planned, kept.busy];
  problem.slots.forEach((_, slot) => {
    const count = kept.count[slot]!;
    const kit = kitOf(kept, slot);
    if (count === 0 || kit === null) return;
    kits.push(kit);
    numbers.push(slot, count, kept.startPlace[slot]!, kept.endPlace[slot]!);
    numbers.push(kept.leaveMin[slot]!, kept.backMin[slot]!, kept.slotCents[slot]!, kept.slotLoad[slot]!);
    const held = slot * stride;
    for (let i = held; i < held + count; i++) numbers.push(kept.sequence[i]!, startAt[i]!, finishAt[i]!);
    for (let i = held; i <= held + count; i++) {
      numbers.push(kept.placeAt[i]!, kept.wayKm[i]!, kept.endAt[i]!, kept.latestAt[i]!);
      numbers.push(kept.busyAt[i]!, kept.leaveBy[i]!, kept.backFrom[i]!);
    }
  });
  return { totalCents: cents, kits, numbers: Float64Array.from(numbers) };
}

export function snapshotOf(problem: Problem, state: State): Snapshot {
  const shelf = createShelf(state);
  copySlots(state, shelf, everySlotOf(problem));
  return takeSnapshot(problem, shelf, totalCents(state));
}

/** A state that stands as the plan does. */
export function stateFrom(problem: Problem, snapshot: Snapshot): State {
  const state = createState(problem.routes);
  const shelf = createShelf(state);
  fillShelf(problem, snapshot, shelf);
  putBack(state, shelf, everySlotOf(problem));
  return state;
}

function everySlotOf({ slots }: Problem): number[] {
  return slots.map((_, slot) => slot);
}

/** Make a shelf stand for the plan, all slots of it; the versions of its slots are left as they are. */
export function fillShelf(problem: Problem, { kits, numbers }: Snapshot, { kept, startAt, finishAt }: Shelf): void {
  const { stride } = problem.routes;
  let at = 0;
  const next = () => numbers[at++]!;
  let crewDay = 0;
  problem.slots.forEach((_, slot) => {
    kept.count[slot] = 0;
    kept.outfit[slot] = null;
    kept.slotCents[slot] = 0;
    kept.slotLoad[slot] = 0;
    openChain(kept, slot);
  });
  kept.startPlace.set(problem.routes.startPlace);
  kept.endPlace.set(problem.routes.endPlace);
  kept.unservedCents = next();
  kept.slotsCents = next();
  kept.planned = next();
  kept.busy = next();
  while (at < numbers.length) {
    const slot = next();
    const count = next();
    const kit = renumbered(problem, slot, kits[crewDay++]!);
    kept.startPlace[slot] = next();
    kept.endPlace[slot] = next();
    kept.count[slot] = count;
    kept.outfit[slot] = kit;
    kept.leaveMin[slot] = next();
    kept.backMin[slot] = next();
    kept.slotCents[slot] = next();
    kept.slotLoad[slot] = next();
    const held = slot * stride;
    for (let i = held; i < held + count; i++) {
      const block = next();
      kept.sequence[i] = block;
      startAt[i] = next();
      finishAt[i] = next();
      // The search here may never have asked how this outfit works the block.
      if (problem.routes.profiles[kit.profile]!.minutes[block]! < 0) problem.routes.ask(kit.profile, block);
    }
    for (let i = held; i <= held + count; i++) {
      kept.placeAt[i] = next();
      kept.wayKm[i] = next();
      kept.endAt[i] = next();
      kept.latestAt[i] = next();
      kept.busyAt[i] = next();
      kept.leaveBy[i] = next();
      kept.backFrom[i] = next();
    }
  }
}

/** Signatures and profiles are numbered as they are met, so each search has its own. */
function renumbered(problem: Problem, slot: number, kit: Kit): Kit {
  const { crew } = problem.slots[slot]!;
  const kinds = kindsOf(kit).map(({ optionIndex, sets }) => ({ option: problem.options[crew]![optionIndex]!, sets }));
  if (kinds.length > 1) {
    const choice = kindsOf(kit).map(({ optionIndex }) => optionIndex);
    const mixed = createMixed(problem, slot, choice, kinds, kit);
    if (mixed === null) throw new Error(`slot ${slot} does not charge what it charged in another search`);
    return mixed;
  }
  const same = { ...kit, option: kinds[0]!.option };
  const own = { ...same, signature: problem.signatures.of(same) };
  return { ...own, profile: problem.profileOf(crew, own) };
}
