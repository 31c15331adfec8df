import { type Insertions, insertAt, insertionCents } from "./insertion.ts";
import { homeOf, keptOutfit, sleepAt } from "./nights.ts";
import { pickIndex, type Random } from "./random.ts";
import type { Night, Outfit, State } from "./routes.ts";
import { append, takeAll } from "./ruin.ts";
import type { Shelf } from "./shelf.ts";
import { setOutfit } from "./state.ts";

/** Our choice: how often both days' stops are dealt out anew between them, and how often a day is turned round. */
const dealShare = 0.5;
const turnShare = 0.3;
/** Our choice: of so many blocks that are not planned the one nearest to where the crew sleeps is tried first on an empty day. */
const firstTried = 12;

/**
 * Let a crew sleep elsewhere between two of its days, or at home again. Away, it has one outfit on both days, and an empty day gets blocks that are not planned: a night
 * away pays only by what both days save. Both slots are kept on the shelf; stops that do not run there are told. What cannot stay is settled later (`settleNights`).
 */
export function moveNight(
  state: State,
  seed: number,
  random: Random,
  shelf: Shelf,
  insertions: Insertions,
  removed: number[],
): void {
  const night = nightNear(state, seed, random);
  const { evening, morning } = night;
  const { run } = insertions;
  const before = state.endPlace[evening]!;
  const choices = [homeOf(state, night), ...night.places].filter((place) => place !== before);
  const place = choices[pickIndex(random, choices.length)]!;
  const [eveningStops, eveningOutfit] = takeAll(state, evening, shelf);
  const [morningStops, morningOutfit] = takeAll(state, morning, shelf);
  sleepAt(state, night, place);
  const isAway = place !== homeOf(state, night);
  if (!isAway || !shareOutfit(state, night, [eveningOutfit, morningOutfit], random)) {
    if (isAway) sleepAt(state, night, before);
    setOutfit(state, evening, eveningOutfit);
    setOutfit(state, morning, morningOutfit);
    append(state, evening, eveningStops, run, removed);
    append(state, morning, morningStops, run, removed);
    return;
  }
  const out: number[] = [];
  const stops = [...eveningStops, ...morningStops];
  const cutAt = random() < dealShare ? pickIndex(random, stops.length + 1) : eveningStops.length;
  const turned = (own: number[]) => (random() < turnShare ? own.toReversed() : own);
  append(state, evening, turned(stops.slice(0, cutAt)), run, out);
  append(state, morning, turned(stops.slice(cutAt)), run, out);
  for (const slot of [evening, morning]) {
    if (state.count[slot] === 0) fillNear(state, slot, place, random, insertions);
  }
  for (const block of out) if (state.slotOf[block]! < 0) removed.push(block);
}

/** Before or after the seed's day, or any. */
function nightNear({ routes, slotOf }: State, seed: number, random: Random): Night {
  const slot = slotOf[seed]!;
  const near = routes.nights.filter(({ evening, morning }) => evening === slot || morning === slot);
  const nights = near.length > 0 ? near : routes.nights;
  return nights[pickIndex(random, nights.length)]!;
}

/** Take out one outfit for both days: what a day beside them has the crew keep, one of theirs, or another. False when none is free on both. */
function shareOutfit(state: State, { evening, morning }: Night, theirs: readonly (Outfit | null)[], random: Random) {
  const { pool } = state;
  const kept = keptOutfit(state, evening) ?? keptOutfit(state, morning);
  const own = random() < 0.5 ? theirs : theirs.toReversed();
  for (const outfit of kept === null ? [...own, pool.propose(evening, random)] : [kept]) {
    if (outfit === null) continue;
    const [one, other] = [pool.transfer(evening, outfit), pool.transfer(morning, outfit)];
    if (one === null || other === null) continue;
    setOutfit(state, evening, one);
    setOutfit(state, morning, other);
    return true;
  }
  return false;
}

/** Blocks that are not planned, into an empty day: one near a place, whatever it costs, and those around it as far as they pay. */
function fillNear(state: State, slot: number, place: number, random: Random, insertions: Insertions): void {
  const { routes, slotOf } = state;
  const mayGo = (block: number) => slotOf[block]! < 0 && routes.could[block * routes.slotCount + slot] === 1;
  const placeOf = routes.profiles[state.outfit[slot]!.profile]!.place;
  let first = -1;
  let firstKm = Number.POSITIVE_INFINITY;
  for (let tried = 0; tried < firstTried; tried++) {
    const block = routes.open[pickIndex(random, routes.open.length)]!;
    if (!mayGo(block) || insertionCents(state, insertions, block, slot) === Number.POSITIVE_INFINITY) continue;
    const km = routes.travelKm[place * routes.placeCount + placeOf[block]!]!;
    if (km >= firstKm) continue;
    firstKm = km;
    first = block;
  }
  if (first < 0) return;
  const put = (block: number, most: number) => {
    if (mayGo(block) && insertionCents(state, insertions, block, slot) < most)
      insertAt(state, insertions.run, slot, block, insertions.place[block * routes.slotCount + slot]!);
  };
  put(first, Number.POSITIVE_INFINITY);
  for (const block of routes.neighbours[first]!) put(block, routes.valueCents[block]!);
}
