import { createInsertions, type Insertions, insertAt, insertionCents } from "./insertion.ts";
import { kindsOf } from "./kinds.ts";
import { freeKits } from "./kits.ts";
import { lockedAway } from "./lockedThings.ts";
import type { Locks, SlotLock } from "./locks.ts";
import { ask, putInOrder } from "./outside/putTogether.ts";
import { whyNot } from "./outside/whyNot.ts";
import type { Kit, Problem } from "./problem.ts";
import { clearStops } from "./removal.ts";
import type { State } from "./routes.ts";
import { createState, setOutfit } from "./state.ts";
import { windowOverlap } from "./windowOverlap.ts";

/** Our choice: so many of the kits that a crew could take are tried for what it is locked to. */
const mostKits = 40;

/**
 * A week that holds nothing but what is locked, and from then on the problem keeps it: a locked block is worth more than everything else together, so that no search ever
 * drops one, and it may lie in its slot only, so that none moves it. Locks that do not hold there are written down with the reason. Null where nothing is locked.
 */
export function holdLocks(problem: Problem): State | null {
  const { locks } = problem;
  if (locks.slots.length === 0 && locks.lost.length === 0) return null;
  // What leaves the planner least choice comes first.
  const need = ({ things, blocks }: SlotLock) => (things === null ? 0 : 1000) + blocks.length;
  const order = locks.slots.toSorted((a, b) => need(b) - need(a));
  let held = holdAll(problem, order, false);
  if (held.whyNot.size + held.outfitWhyNot.size > 0) {
    // One crew may have taken what another needs: now those that need little come first.
    const spared = holdAll(problem, order.toReversed(), true);
    if (spared.whyNot.size + spared.outfitWhyNot.size < held.whyNot.size + held.outfitWhyNot.size) held = spared;
  }
  const { state } = held;
  for (const [block, reason] of held.whyNot) locks.whyNot.set(block, reason);
  for (const [slot, reason] of held.outfitWhyNot) locks.outfitWhyNot.set(slot, reason);
  for (const { blocks, reason } of locks.lost) for (const block of blocks) locks.whyNot.set(block, reason);
  keepLocked(problem, state);
  return state;
}

interface Held extends Pick<Locks, "whyNot" | "outfitWhyNot"> {
  readonly state: State;
}

/** With `isSparing` crews take as little out as does for what is locked. */
function holdAll(problem: Problem, order: readonly SlotLock[], isSparing: boolean): Held {
  const { routes } = problem;
  const held: Held = { state: createState(routes), whyNot: new Map(), outfitWhyNot: new Map() };
  const insertions = createInsertions(routes);
  for (const lock of order) hold(problem, held, insertions, lock, isSparing);
  return held;
}

/** From now on the problem keeps what a state holds of what is locked. A plan to start from may hold what a week with nothing else does not, for a night away between two days. */
export function keepLocked(problem: Problem, state: State): void {
  const { locks, routes } = problem;
  const known = routes.lockedCents!.find((cents) => cents > 0);
  const lockedCents = known ?? worthMoreThanAll(problem);
  for (const { slot, blocks } of locks.slots) {
    for (const block of blocks) {
      if (state.slotOf[block] !== slot || routes.lockedCents![block]! > 0) continue;
      routes.valueCents[block] = routes.valueCents[block]! + lockedCents;
      routes.lockedCents![block] = lockedCents;
      locks.whyNot.delete(block);
    }
  }
}

/** A power of two, so that sums in which it comes and goes stay exact. */
function worthMoreThanAll({ routes }: Problem): number {
  const { valueCents, dutyMaxMin, wageCentsPerMin, overtimeCentsPerMin } = routes;
  const values = valueCents.reduce((sum, cents) => sum + cents, 0);
  const wages = dutyMaxMin.reduce(
    (sum, minutes, slot) => sum + minutes * (wageCentsPerMin[slot]! + overtimeCentsPerMin[slot]!),
    0,
  );
  return 2 ** Math.ceil(Math.log2(1_000_000 + 4 * (values + wages)));
}

function hold(
  problem: Problem,
  { state, whyNot: whyNotBlock, outfitWhyNot }: Held,
  insertions: Insertions,
  { slot, things, blocks }: SlotLock,
  isSparing: boolean,
): void {
  const kits = kitsFor(problem, state, slot);
  if (kits.length === 0) {
    const reason =
      lockedAway(problem, slot) ?? "aircraft, tender, batteries and chargers for it are not free on that day";
    if (things !== null) outfitWhyNot.set(slot, reason);
    for (const block of blocks) whyNotBlock.set(block, reason);
    return;
  }
  let best: Kit | null = null;
  let most = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const kit of blocks.length === 0 ? [] : kits) {
    setOutfit(state, slot, kit);
    const count = put(state, insertions, slot, blocks);
    const merit = isSparing ? amountOf(kit) : state.slotCents[slot]!;
    clearStops(state, slot);
    setOutfit(state, slot, null);
    if (count < most || count === 0 || (count === most && merit >= least)) continue;
    most = count;
    least = merit;
    best = kit;
  }
  setOutfit(state, slot, best ?? kits[0]!);
  if (best !== null) put(state, insertions, slot, blocks);
  for (const block of blocks) {
    if (state.slotOf[block]! < 0) whyNotBlock.set(block, lockWords(problem, state, slot, block));
  }
  if (best === null) setOutfit(state, slot, null);
}

/** How much of the pools a kit takes. */
function amountOf(kit: Kit): number {
  return kindsOf(kit).reduce((sum, { sets }) => sum + sets, kit.aircraft.length + kit.chargers.length);
}

/** Kits that a slot could have, one of each way to work. With a fair share of the battery sets first: other crews need some, too. */
export function kitsFor(problem: Problem, state: State, slot: number): Kit[] {
  const kits = new Map<string, Kit>();
  for (const kit of [...freeKits(problem, state, slot, true), ...freeKits(problem, state, slot)]) {
    const key = `${kit.signature} ${kit.profile}`;
    if (kits.size < mostKits && !kits.has(key)) kits.set(key, kit);
  }
  return [...kits.values()];
}

/** Put blocks into an empty slot, in their order where that runs, else each where it costs least. How many are in. */
function put(state: State, insertions: Insertions, slot: number, blocks: readonly number[]): number {
  const { routes } = state;
  const could = blocks.filter((block) => ask(state, slot, block));
  if (putInOrder(state, insertions.run, slot, could) === could.length) return could.length;
  clearStops(state, slot);
  for (const block of could) {
    if (insertionCents(state, insertions, block, slot) === Number.POSITIVE_INFINITY) continue;
    insertAt(state, insertions.run, slot, block, insertions.place[block * routes.slotCount + slot]!);
  }
  return state.count[slot]!;
}

/** Why a block does not run at the end of a slot's day, whose lock may say when it begins. */
export function lockWords(problem: Problem, state: State, slot: number, block: number): string {
  const startMin = problem.locks.startMin[block]!;
  if (startMin < 0) return whyNot(problem, state, slot, block);
  const clock = problem.calendar.clockOfMin(startMin);
  const { ground } = problem.blocks[block]!;
  const isOpen = problem.types.some((_, type) => windowOverlap(problem, ground, type, slot) > 0);
  return isOpen
    ? `to begin at ${clock}: ${whyNot(problem, state, slot, block)}`
    : `it is to begin at ${clock}, and no window of the crew's shift is open then`;
}
