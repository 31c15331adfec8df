import { describe, expect, it } from "vitest";
import { totalCents } from "../../../../services/solver/state.ts";
import { evaluateSlot, evaluateState, stopsOf } from "./evaluateSlot.ts";
import { createWorld, type Move, moveAtRandom, type World } from "./randomMoves.ts";
import { randomRoutes, type Shape } from "./randomRoutes.ts";

const movesEach = 20_000;
const movesPerProblem = 100;
/** The search adds up what the evaluator multiplies out. */
const roundingCents = 1e-6;

/**
 * Chains are exact with one window a day, or where duty neither costs nor ends a day. On roads where the way round may be shorter, a place may be passed over though it
 * would do: windows that are past for one place count as past for those after it.
 */
const shapes: (Shape & { readonly name: string; readonly refusesOnlyTheImpossible: boolean })[] = [
  { name: "one window a day, duty paid and limited", windowsADay: 1, hours: true, roads: "plane" },
  { name: "one window a day", windowsADay: 1, hours: false, roads: "plane" },
  { name: "several windows a day", windowsADay: 3, hours: false, roads: "plane" },
  { name: "any roads, one window a day, duty paid and limited", windowsADay: 1, hours: true, roads: "any" },
  { name: "any roads, several windows a day", windowsADay: 3, hours: false, roads: "any" },
  { name: "plain", windowsADay: 1, hours: false, roads: "plane", isPlain: true },
  { name: "plain, duty limited", windowsADay: 1, hours: true, roads: "plane", isPlain: true },
].map((shape) => ({ ...(shape as Shape & { name: string }), refusesOnlyTheImpossible: shape.roads === "plane" }));

const near = (a: number, b: number) => a === b || Math.abs(a - b) <= roundingCents;

/** What is wrong after a move, in words. */
function faultsOf({ state }: World, move: Move, refusesOnlyTheImpossible: boolean): string[] {
  const { routes } = state;
  if (move.kind === "putBack" || move.kind === "keep") return [];
  const { slot, before } = move;
  const costOf = (stops: readonly number[]) =>
    stops.length === 0 ? 0 : evaluateSlot(routes, slot, state.outfit[slot]!.profile, stops);
  const faults: string[] = [];
  const now = stopsOf(state, slot);
  if (!near(state.slotCents[slot]!, costOf(now))) {
    faults.push(`${move.kind}: the slot says it costs ${state.slotCents[slot]}, it costs ${costOf(now)}`);
  }
  if (move.kind === "clear" && now.length > 0) faults.push("clear: stops are left");
  if (move.kind === "cut") {
    const left = costOf(move.rest) === Number.POSITIVE_INFINITY ? [] : move.rest;
    if (now.join() !== left.join()) faults.push(`cut: ${left} should be left, ${now} are`);
  }
  if (move.kind !== "insert" && move.kind !== "refused") return faults;
  const { block, at, promises } = move;
  const after = before.toSpliced(at, 0, block);
  const addedCents = costOf(after) - costOf(before);
  const promisedCents = promises.cents[at]!;
  if (move.kind === "refused") {
    if (refusesOnlyTheImpossible && addedCents < Number.POSITIVE_INFINITY) {
      faults.push(`refused though it costs ${addedCents}`);
    }
    if (now.join() !== before.join()) faults.push("refused, and the slot changed");
  } else {
    if (!near(promisedCents, addedCents)) faults.push(`promised ${promisedCents}, it costs ${addedCents}`);
    if (now.join() !== after.join()) faults.push(`insert: ${after} expected, ${now} found`);
  }
  const least = Math.min(...promises.cents);
  if (promises.best.cents !== least) faults.push(`the best place costs ${least}, ${promises.best.cents} was chosen`);
  if (least < Number.POSITIVE_INFINITY && promises.cents[promises.best.place] !== least) {
    faults.push(`place ${promises.best.place} was chosen, it is not the best`);
  }
  return faults;
}

describe("insertions, cuts, clears and put backs at random, beside an evaluator that walks every day for every minute of leaving", () => {
  for (const [index, shape] of shapes.entries()) {
    it(shape.name, () => {
      const faults: string[] = [];
      const done = { insert: 0, refused: 0, cut: 0, clear: 0, putBack: 0, keep: 0 };
      let moves = 0;
      for (let problem = 0; moves < movesEach; problem++) {
        const seed = 10_000 * index + problem;
        const world = createWorld(randomRoutes(seed, shape), seed);
        expect(world.state.plain !== null).toBe(shape.isPlain ?? false);
        for (let move = 0; move < movesPerProblem; ) {
          const made = moveAtRandom(world);
          done[made.kind]++;
          if (made.kind !== "refused" && made.kind !== "keep") {
            move++;
            moves++;
          }
          faults.push(
            ...faultsOf(world, made, shape.refusesOnlyTheImpossible).map((fault) => `problem ${seed}: ${fault}`),
          );
        }
        const { busy, planned, count } = world.state;
        if (busy !== count.filter((stops) => stops > 0).length)
          faults.push(`problem ${seed}: ${busy} slots have stops`);
        if (planned !== count.reduce((sum, stops) => sum + stops, 0))
          faults.push(`problem ${seed}: ${planned} planned`);
        const cents = evaluateState(world.state);
        const told = totalCents(world.state);
        if (!near(told, cents)) faults.push(`problem ${seed}: the total is told as ${told}, it is ${cents}`);
      }
      expect(faults.slice(0, 5)).toEqual([]);
      for (const count of Object.values(done)) expect(count).toBeGreaterThan(movesEach / 50);
    });
  }
});
