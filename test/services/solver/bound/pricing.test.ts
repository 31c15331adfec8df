import { describe, expect, it } from "vitest";
import { createRandom } from "../../../../services/scenario/generate/random.ts";
import { createPricing, priceExactly } from "../../../../services/solver/bound/pricing.ts";
import { relax } from "../../../../services/solver/bound/relaxation.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { everyDay } from "../../../support/exact/everyDay.ts";
import { randomPrices } from "./randomPrices.ts";
import { leastReducedCents } from "./realRoutes.ts";

const seeds = [10, 15, 18, 24, 50, 61];
const drawsOfSeed = 8;

describe("exact pricing", () => {
  const nearOf = new Map<number, number>();
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
    nearOf.set(seed, near);
  });

  it("is not far below what can be had, where it would be true and of no use", () => {
    const near = seeds.filter((seed) => nearOf.get(seed)! > 0);
    expect(near.length, JSON.stringify([...nearOf])).toBeGreaterThanOrEqual(seeds.length - 1);
  });
});
