import { describe, expect, it } from "vitest";
import { createRandom } from "../../../../services/solver/random.ts";
import { clearShelf, putBack } from "../../../../services/solver/shelf.ts";
import { totalCents } from "../../../../services/solver/state.ts";
import { exchangeTails, tailsCents } from "../../../../services/solver/tails.ts";
import { evaluateSlot, evaluateState, stopsOf } from "./evaluateSlot.ts";
import { createWorld, moveAtRandom } from "./randomMoves.ts";
import { randomRoutes, type Shape } from "./randomRoutes.ts";
import { snapshot } from "./snapshot.ts";

const problems = 150;
const movesEach = 130;
const shapes: (Shape & { readonly name: string })[] = [
  { name: "duty free", windowsADay: 1, hours: false, roads: "plane", isPlain: true },
  { name: "duty limited", windowsADay: 1, hours: true, roads: "plane", isPlain: true },
];

describe("exchanging the ends of two routes at random, beside an evaluator that walks every day", () => {
  for (const { name, ...shape } of shapes) {
    it(name, () => {
      const done = { exchanged: 0, undone: 0, none: 0, opened: 0, closed: 0, impossible: 0, promised: 0 };
      for (let seed = 1; seed <= problems; seed++) {
        const routes = randomRoutes(70_000 + seed, shape);
        const { state, shelf, ...world } = createWorld(routes, seed);
        const random = createRandom(seed);
        // Every slot with the outfit that is proposed for it, as in a search.
        for (let move = 0; move < movesEach; move++) {
          if (move % 4 === 0) moveAtRandom({ state, shelf, ...world });
          for (let slot = 0; slot < routes.slotCount; slot++) state.outfit[slot] ??= state.pool.propose(slot, random);
          clearShelf(state, shelf);
          const before = snapshot(state);
          const stops = Array.from(state.count.keys(), (slot) => stopsOf(state, slot));
          const [cents, busy] = [totalCents(state) - state.pool.changeCents(), state.busy];
          const moreCents = random() < 0.5 ? 1000 : 1;
          const block = routes.open[move % routes.open.length]!;
          const isDone = exchangeTails(state, state.plain!, block, moreCents, random, shelf);
          if (!isDone) {
            done[shelf.slots.length > 0 ? "undone" : "none"]++;
            putBack(state, shelf, shelf.slots);
            expect(snapshot(state)).toEqual(before);
            continue;
          }
          done.exchanged++;
          done.opened += state.busy > busy ? 1 : 0;
          done.closed += state.busy < busy ? 1 : 0;
          const changeCents = state.pool.changeCents();
          expect(totalCents(state), `problem ${seed}`).toBeCloseTo(evaluateState(state), 6);
          expect(totalCents(state) - changeCents - cents, `problem ${seed}`).toBeLessThan(moreCents);
          for (const slot of shelf.slots) {
            for (const stop of stopsOf(state, slot)) expect(state.slotOf[stop]).toBe(slot);
          }
          expect(state.busy).toBe(state.count.filter((count) => count > 0).length);
          putBack(state, shelf, shelf.slots);
          expect(snapshot(state)).toEqual(before);
          // What every pair of places promises is what walking both days gives, unless that is too late.
          const [slot = -1, other = -1] = shelf.slots;
          for (let at = 0; at < stops[slot]!.length; at++) {
            for (let from = 0; from <= Math.max(0, stops[other]!.length - 1); from++) {
              const [mine, theirs] = [stops[slot]!, stops[other]!];
              const costOf = (one: number, list: readonly number[]) =>
                evaluateSlot(routes, one, state.outfit[one]!.profile, list);
              const walked =
                costOf(slot, [...mine.slice(0, at + 1), ...theirs.slice(from)]) +
                costOf(other, [...theirs.slice(0, from), ...mine.slice(at + 1)]);
              const promised = tailsCents(state, state.plain!, slot, at, other, from);
              if (walked === Number.POSITIVE_INFINITY) {
                done.impossible++;
              } else {
                done.promised++;
                expect(promised, `problem ${seed}`).toBeCloseTo(walked - costOf(slot, mine) - costOf(other, theirs), 6);
              }
            }
          }
        }
      }
      expect(done.exchanged).toBeGreaterThan(1000);
      for (const count of Object.values(done)) expect(count).toBeGreaterThan(5);
    });
  }
});
