import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { createRandom } from "../../../../services/scenario/generate/random.ts";
import type { Column } from "../../../../services/solver/bound/column.ts";
import { fluidBound } from "../../../../services/solver/bound/fluid/fluidBound.ts";
import { columnOf, routesLike } from "../../../../services/solver/bound/knownRoutes.ts";
import { type Prices, reducedCents } from "../../../../services/solver/bound/prices.ts";
import { createPricing, priceExactly } from "../../../../services/solver/bound/pricing.ts";
import { type Relaxation, relax } from "../../../../services/solver/bound/relaxation.ts";
import type { Triple } from "../../../../services/solver/bound/triples.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { randomPrices } from "./randomPrices.ts";

const seeds = [10, 18, 24, 61];
const drawsOfSeed = 40;
/** Longer orders of blocks are not gone through. */
const mostStops = 7;

/** Columns of a slot, one stop after the other, as the relaxation reckons their cost: of those of the same blocks each that is cheaper or shorter than the others. */
function everyColumn(relaxation: Relaxation, slot: number): Column[] {
  const { outings, outingsOfSlot, problem } = relaxation;
  return outingsOfSlot[slot]!.flatMap((index) => {
    const { option, tenders } = outings[index]!;
    const route = { slot, type: option.type, count: option.count, tender: tenders[0]! };
    const best = new Map<string, Column[]>();
    const follow = (before: readonly number[]) => {
      for (const block of problem.open) {
        if (before.includes(block)) continue;
        const blocks = [...before, block];
        const column = columnOf(relaxation, { ...route, blocks });
        if (column === null) continue;
        const key = blocks.toSorted((a, b) => a - b).join();
        const others = best.get(key) ?? [];
        if (!others.some(({ cents, dutyMin }) => cents <= column.cents && dutyMin <= column.dutyMin))
          best.set(key, [...others, column]);
        if (blocks.length < mostStops) follow(blocks);
      }
    };
    follow([]);
    return [...best.values()].flat();
  });
}

describe("the search by labels", () => {
  it.each(seeds)("overlooks none of the relaxation's own routes, seed %i", (seed) => {
    const { operation } = contestedOperation(seed);
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    const random = createRandom(seed, "labels");
    const relaxation = relax(problem);
    const columns = problem.slots.map((_, slot) => everyColumn(relaxation, slot));
    // One for all, because it remembers what it knew by the prices before.
    const pricing = createPricing(relaxation);
    let equal = 0;
    for (let round = 0; round < drawsOfSeed; round++) {
      const triples = Array.from({ length: 6 }, (): Triple => {
        const rest = [...problem.open];
        const draw = () => rest.splice(random.whole(0, rest.length - 1), 1)[0]!;
        return [draw(), draw(), draw()];
      });
      const prices = {
        ...randomPrices(relaxation, random),
        triple: Float64Array.from(triples, () => (random.chance(0.7) ? random.between(0, 20_000) : 0)),
      };
      problem.slots.forEach((_, slot) => {
        const { leastCents } = priceExactly(pricing, slot, { prices, triples }, () => false);
        const least = columns[slot]!.reduce(
          (cents, column) => Math.min(cents, reducedCents(relaxation, triples, column, prices)),
          0,
        );
        expect(leastCents).toBeLessThanOrEqual(least + 1e-6);
        if (least < 0 && Math.abs(least - leastCents) < 1e-6) equal++;
      });
    }
    expect(equal).toBeGreaterThan(0);
  });
});

describe("the search by labels, among many blocks", () => {
  it("overlooks no route that was found by other prices, nor any like it", () => {
    const operation = generateOperation({ orders: 24, crews: 1, days: 1, seed: 4 });
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    const relaxation = relax(problem);
    const fluid = fluidBound(
      problem,
      () => false,
      () => undefined,
    );
    const random = createRandom(4, "many");
    const pricing = createPricing(relaxation);
    const known = new Map<string, Column>();
    let told = 0;
    for (let round = 0; round < 8; round++) {
      const prices: Prices = {
        block: fluid.blockCents.map((cents, block) =>
          Math.min(problem.routes.valueCents[block]!, cents * random.between(0.9, 1.5)),
        ),
        limit: new Float64Array(relaxation.limits.length),
        triple: new Float64Array(0),
      };
      const least = problem.slots.map((_, slot) => {
        const { leastCents, columns } = priceExactly(pricing, slot, { prices, triples: [] }, () => false);
        for (const column of columns.slice(0, 4)) {
          for (const one of [column, ...routesLike(relaxation, column)]) {
            if (new Set(one.blocks).size === one.blocks.length) known.set(`${one.outing} ${one.blocks}`, one);
          }
        }
        return leastCents;
      });
      for (const column of known.values()) {
        const { slot } = relaxation.outings[column.outing]!;
        const cents = reducedCents(relaxation, [], column, prices);
        expect(cents).toBeGreaterThanOrEqual(least[slot]! - 1e-6);
        if (cents < 0) told++;
      }
    }
    expect(told).toBeGreaterThan(100);
  });
});
