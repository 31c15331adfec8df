import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { insertAt } from "../../../../services/solver/insertion.ts";
import { prepareOperation } from "../../../../services/solver/planOperation.ts";
import { createRandom } from "../../../../services/solver/random.ts";
import { mostWalks, type Swap, swapsFor } from "../../../../services/solver/reasons/displace.ts";
import { cut } from "../../../../services/solver/removal.ts";
import type { State } from "../../../../services/solver/routes.ts";
import { clearShelf, createShelf, keepSlot, putBack } from "../../../../services/solver/shelf.ts";
import { solve } from "../../../../services/solver/solve.ts";
import { createDayRun, totalCents } from "../../../../services/solver/state.ts";
import { snapshot } from "./snapshot.ts";

const roundingCents = 1e-6;

/** What a swap really costs when stops are taken out and the block is put in for good, at the best place; the state is put back. */
function realLossCents(state: State, block: number, { slot, out }: Swap): number {
  const { stride } = state.routes;
  const run = createDayRun(stride);
  const shelf = createShelf(state);
  const stops = [...state.sequence.slice(slot * stride, slot * stride + state.count[slot]!)];
  const kept = stops.filter((_, at) => !out.includes(at));
  const before = totalCents(state);
  let least = Number.POSITIVE_INFINITY;
  for (let place = 0; place <= kept.length; place++) {
    clearShelf(state, shelf);
    keepSlot(state, shelf, slot);
    for (const at of out.toSorted((a, b) => b - a)) cut(state, run, slot, at, 1, 0, 0);
    const isIn = state.count[slot] === kept.length;
    if (isIn && insertAt(state, run, slot, block, place)) least = Math.min(least, totalCents(state) - before);
    putBack(state, shelf, shelf.slots);
  }
  return least;
}

describe("what a block would displace", () => {
  it.each([
    { orders: 36, crews: 2, days: 3, seed: 3 },
    { orders: 60, crews: 3, days: 4, seed: 8 },
    { orders: 30, crews: 1, days: 2, seed: 5 },
  ])("costs what it is said to, and only other orders that are not locked go: %o", (request) => {
    const { problem, held } = prepareOperation(generateOperation(request));
    const random = createRandom(1);
    const { state } = solve(problem.routes, { random, doneShare: (done) => done / 150 }, held ?? undefined);
    const unplanned = problem.routes.open.filter((block) => state.slotOf[block]! < 0);
    const before = snapshot(state);
    let swaps = 0;
    for (const block of unplanned) {
      const found = swapsFor(problem, state, block, { left: mostWalks });
      expect(snapshot(state)).toEqual(before);
      expect(found.map(({ lossCents }) => lossCents)).toEqual(
        found.map(({ lossCents }) => lossCents).toSorted((a, b) => a - b),
      );
      for (const swap of found.slice(0, 3)) {
        swaps++;
        const own = problem.blocks[block]!.order;
        for (const at of swap.out) {
          const stop = state.sequence[swap.slot * problem.routes.stride + at]!;
          expect(problem.blocks[stop]!.order).not.toBe(own);
        }
        expect(Math.abs(realLossCents(state, block, swap) - swap.lossCents)).toBeLessThan(roundingCents);
      }
    }
    expect(swaps).toBeGreaterThan(3);
  });

  it("is found of few days where few walks are left, and of none where there are none", () => {
    const { problem } = prepareOperation(generateOperation({ orders: 36, crews: 2, days: 3, seed: 3 }));
    const { state } = solve(problem.routes, { random: createRandom(1), doneShare: (done) => done / 150 });
    const block = problem.routes.open.find((one) => state.slotOf[one]! < 0)!;
    const budget = { left: 30 };
    swapsFor(problem, state, block, budget);
    expect(budget.left).toBeGreaterThanOrEqual(0);
    expect(swapsFor(problem, state, block, { left: 0 })).toEqual([]);
  });
});
