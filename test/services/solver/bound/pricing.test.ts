import { describe, expect, it } from "vitest";
import { createRandom, type Random } from "../../../../services/scenario/generate/random.ts";
import type { Prices } from "../../../../services/solver/bound/prices.ts";
import { createPricing, priceExactly } from "../../../../services/solver/bound/pricing.ts";
import { type Relaxation, relax } from "../../../../services/solver/bound/relaxation.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { everyDay } from "../../../support/exact/everyDay.ts";
import { leastReducedCents } from "./realRoutes.ts";

/** Blocks bring up to what they are worth, some of the limits cost something. */
function randomPrices({ problem, limits }: Relaxation, random: Random): Prices {
  const isOpen = new Set(problem.open);
  const scale = { aircraft: 20_000, tender: 20_000, charger: 10_000, dutyMin: 40, apart: 30_000 };
  return {
    block: Float64Array.from(problem.blocks, ({ valueCents }, block) =>
      isOpen.has(block) ? valueCents * Math.min(1, random.between(0, 1.3)) : 0,
    ),
    limit: Float64Array.from(limits, ({ kind }) => (random.chance(0.4) ? random.between(0, scale[kind]) : 0)),
    triple: new Float64Array(),
  };
}

const seeds = [10, 15, 18, 24, 50, 61];
const drawsOfSeed = 8;

describe("exact pricing", () => {
  it.each(seeds)("finds no route dearer than any that runs with all rules, seed %i", (seed) => {
    const { operation } = contestedOperation(seed);
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    const days = everyDay(problem, "any");
    const random = createRandom(seed, "prices");
    const relaxation = relax(problem);
    let near = 0;
    for (let draw = 0; draw < drawsOfSeed; draw++) {
      const offer = { prices: randomPrices(relaxation, random), triples: [] };
      const real = leastReducedCents(relaxation, days, offer.prices);
      const pricing = createPricing(relaxation);
      problem.slots.forEach((_, slot) => {
        const { leastCents, columns } = priceExactly(pricing, slot, offer, () => false);
        expect(leastCents).toBeLessThanOrEqual(real[slot]! + 1e-6);
        if (leastCents < 0 && real[slot]! < 0.9 * leastCents) near++;
        for (const column of columns) expect(column.cents).toBeGreaterThan(0);
      });
    }
    // Were it far below what can be had, it would be true and of no use.
    expect(near).toBeGreaterThan(0);
  });
});
