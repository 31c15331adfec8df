import type { Move } from "../../../shared/contracts/moves.ts";
import { shortDateWords } from "../../../shared/model/dateWords.ts";
import { kitsFor, lockWords } from "../holdLocks.ts";
import { canWork } from "../kinds.ts";
import { kitOf } from "../kits.ts";
import { anySlot, type Locks } from "../locks.ts";
import { whyNot } from "../outside/whyNot.ts";
import type { Kit, Problem } from "../problem.ts";
import { clearStops } from "../removal.ts";
import type { DayRun, State } from "../routes.ts";
import { setOutfit, totalCents } from "../state.ts";
import { putBetween, setStops, stopsOf } from "./placeStops.ts";

/** A stop that no longer runs where it was. */
export interface PushedOut {
  readonly block: number;
  readonly slot: number;
  readonly sentence: string;
}

export type Applied =
  | { readonly goes: true; readonly pushedOut: readonly PushedOut[] }
  | { readonly goes: false; readonly sentence: string };

/** Where a move leads: a slot, and the place among its stops, or null for the one that costs least. */
interface Target {
  readonly slot: number;
  readonly place: number | null;
}

const no = (sentence: string): Applied => ({ goes: false, sentence });

/** One move on a state by all rules of the day. Crew-days that it does not touch stay as they are; outfits stay, but a crew that did not go out takes what costs least. `locks`: what the dispatcher has locked. */
export function applyMove(problem: Problem, locks: Locks, state: State, run: DayRun, move: Move): Applied {
  const block = problem.blocks.findIndex((one) => one.block.id === move.blockId);
  if (block < 0) return no(`The plan has no block ${move.blockId}.`);
  const found = move.to === null ? null : targetOf(problem, state, block, move.to);
  if (typeof found === "string") return no(found);
  const locked = lockedElsewhere(problem, locks, block, found?.slot ?? null);
  if (locked !== null) return no(locked);

  const from = state.slotOf[block]!;
  const pushedOut: PushedOut[] = [];
  const without = from < 0 ? [] : setStops(state, run, from, without1(stopsOf(state, from), block));
  for (const other of without) pushedOut.push(pushed(problem, state, from, other));
  if (from >= 0 && state.count[from] === 0 && from !== found?.slot) setOutfit(state, from, null);
  if (found !== null) {
    const put = putInto(problem, state, run, found, block);
    if (typeof put === "string") return no(put);
    for (const other of put) pushedOut.push(pushed(problem, state, found.slot, other));
  }
  const lost = pushedOut.find((other) => locks.slotOf[other.block] !== anySlot);
  if (lost !== undefined) {
    return no(`${nameOf(problem, lost.block)} is locked there and would no longer fit: ${lost.sentence}.`);
  }
  return { goes: true, pushedOut };
}

const without1 = (stops: readonly number[], block: number) => stops.filter((one) => one !== block);
const nameOf = ({ blocks }: Problem, block: number) => blocks[block]!.block.id;

export function crewDayWords({ slots, crews, calendar }: Problem, slot: number): string {
  const { crew, day } = slots[slot]!;
  const date = calendar.dates[day]!;
  return `${crews[crew]!.name} on ${shortDateWords(date, date)}`;
}

function targetOf(
  problem: Problem,
  state: State,
  block: number,
  { crewId, date, after }: NonNullable<Move["to"]>,
): Target | string {
  const { slots, crews, calendar } = problem;
  const crew = crews.find(({ id }) => id === crewId);
  if (crew === undefined) return `There is no crew ${crewId}.`;
  const slot = slots.findIndex((one) => crews[one.crew] === crew && calendar.dates[one.day] === date);
  if (slot < 0) return `${crew.name} has no shift on ${date}.`;
  if (after === undefined) return { slot, place: null };
  if (after === null) return { slot, place: 0 };
  const before = without1(stopsOf(state, slot), block).findIndex((stop) => nameOf(problem, stop) === after);
  if (before < 0) return `${after} is not among the stops of ${crewDayWords(problem, slot)}.`;
  return { slot, place: before + 1 };
}

function lockedElsewhere(problem: Problem, locks: Locks, block: number, to: number | null): string | null {
  const locked = locks.slotOf[block]!;
  if (locked === anySlot || locked === to) return null;
  const where = locked < 0 ? "a day on which its crew has no shift" : crewDayWords(problem, locked);
  return `${nameOf(problem, block)} is locked to ${where}. Take the lock away first.`;
}

function pushed(problem: Problem, state: State, slot: number, block: number): PushedOut {
  const sentence = kitOf(state, slot) === null ? "its crew has no outfit left" : whyNot(problem, state, slot, block);
  return { block, slot, sentence };
}

/** The stops that are pushed out, or why the block does not go there. */
function putInto(problem: Problem, state: State, run: DayRun, target: Target, block: number): number[] | string {
  const { slot } = target;
  if (kitOf(state, slot) === null) {
    const kit = cheapestKit(problem, state, run, slot, block);
    if (typeof kit === "string") return kit;
    setOutfit(state, slot, kit);
  }
  const stops = without1(stopsOf(state, slot), block);
  const put = (place: number) => putBetween(state, run, slot, stops.slice(0, place), block, stops.slice(place));
  let place = target.place ?? stops.length;
  if (target.place === null) {
    let leastCents = Number.POSITIVE_INFINITY;
    for (let tried = 0; tried <= stops.length; tried++) {
      if (put(tried) === null || totalCents(state) >= leastCents) continue;
      leastCents = totalCents(state);
      place = tried;
    }
  }
  const left = put(place);
  if (left !== null) return left;
  return doesNotGo(problem, state, slot, block);
}

function doesNotGo(problem: Problem, state: State, slot: number, block: number): string {
  return `${nameOf(problem, block)} does not go to ${crewDayWords(problem, slot)}: ${lockWords(problem, state, slot, block)}.`;
}

/** What a crew that has nothing out takes for a block: as on its other days, or whatever else is free, by what costs least. */
function cheapestKit(problem: Problem, state: State, run: DayRun, slot: number, block: number): Kit | string {
  const ofOtherDays = problem.slotsOfCrew[problem.slots[slot]!.crew]!.flatMap((other) => {
    const kit = other === slot ? null : kitOf(state, other);
    const same = kit === null ? null : state.pool.transfer(slot, kit);
    return same === null ? [] : [same as Kit];
  });
  const kits = [...ofOtherDays, ...kitsFor(problem, state, slot)];
  if (kits.length === 0) {
    return `${crewDayWords(problem, slot)}: no aircraft, tender, battery sets and chargers are free that go together.`;
  }
  let best: Kit | null = null;
  let leastCents = Number.POSITIVE_INFINITY;
  for (const kit of kits) {
    setOutfit(state, slot, kit);
    const goes = putBetween(state, run, slot, [], block, []) !== null;
    if (goes && totalCents(state) < leastCents) {
      leastCents = totalCents(state);
      best = kit;
    }
    clearStops(state, slot);
    setOutfit(state, slot, null);
  }
  if (best !== null) return best;
  setOutfit(state, slot, kits.find((kit) => canWork(problem, kit, block)) ?? kits[0]!);
  return doesNotGo(problem, state, slot, block);
}
