import { chain, dutyCents, lateCents } from "./chains.ts";
import { plainPlace } from "./plain.ts";
import { movedCents } from "./published.ts";
import type { DayRun, RouteProblem, State } from "./routes.ts";
import { createDayRun, touch } from "./state.ts";
import { lastStartIn } from "./windows.ts";

/** Our choice: so many of the places that promise most are run through all rules before a slot is given up. */
const runsTried = 10;

/** Best place of a block in a slot, as worked out for one version of the slot. */
export interface Insertions {
  readonly version: Int32Array;
  readonly place: Int16Array;
  readonly cents: Float64Array;
  /** 1 where all rules were asked, 0 where only the slot's chains were. */
  readonly isSure: Uint8Array;
  /** What each place of the slot at hand promises. */
  readonly promised: Float64Array;
  readonly run: DayRun;
}

export function createInsertions({ blockCount, slotCount, stride }: RouteProblem): Insertions {
  const size = blockCount * slotCount;
  return {
    version: new Int32Array(size).fill(-1),
    place: new Int16Array(size),
    cents: new Float64Array(size),
    isSure: new Uint8Array(size),
    promised: new Float64Array(stride),
    run: createDayRun(stride),
  };
}

/** What the best place in a slot with an outfit promises to add to its cost, or is known to; infinite when there is none. */
export function promisedCents(state: State, insertions: Insertions, block: number, slot: number): number {
  const at = block * state.routes.slotCount + slot;
  if (insertions.version[at] === state.version[slot]) return insertions.cents[at]!;
  const { promised } = insertions;
  const { plain, rules } = state;
  let place: number;
  if (plain !== null) place = plainPlace(state, plain, promised, block, slot);
  else if (rules?.promise !== undefined) place = rules.promise(slot, block, promised);
  else place = promise(state, promised, block, slot);
  const cents = place < 0 ? Number.POSITIVE_INFINITY : promised[plain === null ? place : 0]!;
  insertions.version[at] = state.version[slot]!;
  insertions.place[at] = place;
  insertions.cents[at] = cents;
  insertions.isSure[at] = place < 0 || rules === null || rules.promise !== undefined ? 1 : 0;
  return cents;
}

/** What the best place in a slot with an outfit adds to its cost by all rules. */
export function insertionCents(state: State, insertions: Insertions, block: number, slot: number): number {
  const at = block * state.routes.slotCount + slot;
  promisedCents(state, insertions, block, slot);
  if (insertions.isSure[at] === 0) {
    promise(state, insertions.promised, block, slot);
    const [place, cents] = bestRun(state, insertions, block, slot);
    insertions.place[at] = place;
    insertions.cents[at] = cents;
    insertions.isSure[at] = 1;
  }
  return insertions.cents[at]!;
}

/** The best of the places that promise most, run through all rules. */
function bestRun(state: State, { promised, run }: Insertions, block: number, slot: number): [number, number] {
  const rules = state.rules!;
  let best = -1;
  let bestCents = Number.POSITIVE_INFINITY;
  for (let runs = 0; runs < runsTried; runs++) {
    let next = -1;
    let nextCents = bestCents;
    for (let place = 0; place <= state.count[slot]!; place++) {
      if (promised[place]! < nextCents) {
        nextCents = promised[place]!;
        next = place;
      }
    }
    if (next < 0) break;
    promised[next] = Number.POSITIVE_INFINITY;
    if (!rules.run(slot, block, next, run)) continue;
    const cents = run.cents - state.slotCents[slot]!;
    if (cents >= bestCents) continue;
    bestCents = cents;
    best = next;
  }
  return [best, bestCents];
}

/**
 * What a block adds to a slot's cost at each place, as far as the slot's chains tell, infinite where they forbid it. Exact where no other rules are. Gives the place
 * of the least, or -1.
 */
export function promise(state: State, promised: Float64Array, block: number, slot: number): number {
  const { routes } = state;
  const { stride, travelMin, travelKm, placeCount, hoursCount } = routes;
  const count = state.count[slot]!;
  const outfit = state.outfit[slot]!;
  const profile = routes.profiles[outfit.profile]!;
  let minutes = profile.minutes[block]!;
  if (minutes < 0) minutes = routes.ask(outfit.profile, block);
  if (minutes === 0 || count + 2 > stride) return -1;
  const isExact = state.rules === null;
  if (isExact && state.slotLoad[slot]! + routes.load[block]! > profile.capacity) return -1;
  const held = slot * stride;
  const day = routes.dayOfSlot[slot]!;
  const variant = profile.variant[block]!;
  const to = profile.place[block]!;
  const { setupMin, packupMin, centsPerKm } = profile;
  const start = state.startPlace[slot]!;
  const end = state.endPlace[slot]!;
  const fixedCents =
    minutes * (profile.ownCentsPerWorkMin?.[block] ?? profile.centsPerWorkMin) +
    lateCents(routes, block, day) +
    (routes.published == null ? 0 : movedCents(routes.published, block, slot)) +
    (count === 0 ? profile.fixedCents : 0);
  const nowDutyCents =
    count === 0 || !hoursCount ? 0 : dutyCents(routes, slot, state.backMin[slot]! - state.leaveMin[slot]!);

  const { placeAt, endAt, latestAt } = state;
  const { windowTimes, comingMin, comingKm } = routes;
  const onDay = variant * routes.days + day;
  const lastWindow = routes.windowLast[onDay]!;
  const row = to * placeCount;
  let w = routes.windowFirst[onDay]!;
  if (w >= lastWindow) return -1;
  const soonestMin = windowTimes[w]! + minutes;
  const closeMin = lastStartIn(routes, lastWindow - 2, minutes);

  let best = -1;
  let bestCents = Number.POSITIVE_INFINITY;
  let before = start;
  let doneMin = routes.fromMin[slot]!;
  for (let at = 0; at <= count; at++) {
    promised[at] = Number.POSITIVE_INFINITY;
    if (at > 0) doneMin = endAt[held + at - 1]!;
    // Later places only come later.
    if (doneMin > closeMin) {
      promised.fill(Number.POSITIVE_INFINITY, at, count + 1);
      break;
    }
    const latestMin = latestAt[held + at]!;
    if (soonestMin > latestMin) continue;
    if (at > 0) before = placeAt[held + at - 1]!;
    const after = at === count ? end : placeAt[held + at]!;
    const inMin = before === to ? 0 : comingMin[row + before]! + setupMin + (at === 0 ? 0 : packupMin);
    const readyMin = doneMin + inMin;
    // The way there may be longer from another place, so windows are sought anew.
    w = routes.windowFirst[onDay]!;
    while (w < lastWindow && Math.max(readyMin, windowTimes[w]!) > lastStartIn(routes, w, minutes)) w += 2;
    if (w >= lastWindow) continue;
    const outMin = to === after ? 0 : travelMin[row + after]! + packupMin + (at === count ? 0 : setupMin);
    const nextMin = Math.max(readyMin, windowTimes[w]!) + minutes + outMin;
    if (nextMin > latestMin) continue;
    const moreKm =
      (before === to ? 0 : comingKm[row + before]!) +
      (to === after ? 0 : travelKm[row + after]!) -
      state.wayKm[held + at]!;
    let cents = fixedCents + moreKm * centsPerKm;
    if (hoursCount) {
      const ownBusy = (at === 0 ? 0 : state.busyAt[held + at - 1]! + minutesAt(state, slot, at - 1)) + inMin;
      const nextBusy = ownBusy + minutes + outMin;
      const restMin = state.busyAt[held + count]! - state.busyAt[held + at]!;
      const backMin = Math.max(nextMin + restMin, state.backFrom[held + at]!);
      const leaveMin = Math.min(
        at === 0 ? Number.POSITIVE_INFINITY : state.leaveBy[held + at - 1]!,
        lastStartIn(routes, w, minutes) - ownBusy,
        latestMin - nextBusy,
        backMin - nextBusy - restMin,
      );
      const dutyMin = backMin - leaveMin;
      if (isExact && dutyMin > routes.dutyMaxMin[slot]!) continue;
      cents += dutyCents(routes, slot, dutyMin) - nowDutyCents;
    }
    promised[at] = cents;
    if (cents < bestCents) {
      bestCents = cents;
      best = at;
    }
  }
  return best;
}

/** Whether the chains allow a block after the last stop of a slot with an outfit. */
export function mayAppend(state: State, slot: number, block: number): boolean {
  const promised = new Float64Array(state.count[slot]! + 1);
  if (state.routes.could[block * state.routes.slotCount + slot] === 0) return false;
  return promise(state, promised, block, slot) >= 0 && promised[state.count[slot]!]! < Number.POSITIVE_INFINITY;
}

function minutesAt(state: State, slot: number, at: number): number {
  const { routes } = state;
  return routes.profiles[state.outfit[slot]!.profile]!.minutes[state.sequence[slot * routes.stride + at]!]!;
}

/** Put a block into a slot with an outfit. False when it does not run there, for other slots moved; the slot is then as it was. */
export function insertAt(state: State, run: DayRun, slot: number, block: number, at: number): boolean {
  const { routes } = state;
  const { stride } = routes;
  const { rules } = state;
  if (rules !== null && !rules.run(slot, block, at, run)) return false;
  const held = slot * stride;
  const count = state.count[slot]!;
  for (let i = held + count; i > held + at; i--) state.sequence[i] = state.sequence[i - 1]!;
  state.sequence[held + at] = block;
  state.count[slot] = count + 1;
  if (!chain(state, slot, rules === null ? null : run)) {
    throw new Error(`slot ${slot} does not hold block ${block} where its chains said so`);
  }
  if (count === 0) state.busy++;
  state.slotOf[block] = slot;
  state.unservedCents -= routes.valueCents[block]!;
  state.planned++;
  touch(state, slot);
  return true;
}
