import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { createRandom } from "../../../../services/scenario/generate/random.ts";
import { fluidBound } from "../../../../services/solver/bound/fluid/fluidBound.ts";
import { createFluidDays } from "../../../../services/solver/bound/fluid/fluidDays.ts";
import { fixedCents, offer } from "../../../../services/solver/bound/fluid/offer.ts";
import { leastVisits } from "../../../../services/solver/bound/fluid/visits.ts";
import { everyOuting } from "../../../../services/solver/bound/outings.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { everyDay } from "../../../support/exact/everyDay.ts";
import { outingsOf } from "./realRoutes.ts";

const seeds = [10, 18, 24, 50, 61];
const drawsOfSeed = 4;

describe("a day of which only minutes count", () => {
  it.each(seeds)("lets no real route's blocks bear more than the route costs, seed %i", (seed) => {
    const { operation } = contestedOperation(seed);
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    const days = everyDay(problem, "any");
    const { list, limits } = everyOuting(problem);
    const dayOf = createFluidDays(problem, leastVisits(problem));
    const fluidDays = new Map(list.flatMap((outing) => [[outing, dayOf(outing)] as const]));
    const random = createRandom(seed, "prices");
    const size = problem.blocks.length;
    let nearest = 0;
    for (let draw = 0; draw < drawsOfSeed; draw++) {
      const limitCents = Float64Array.from(limits, () => random.between(0, draw * 15_000));
      const slotCents = Float64Array.from(problem.slots, () => random.between(0, 20_000));
      const borne = new Map(
        [...fluidDays].map(([outing, day]) => {
          const leastCents = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
          if (day === null) return [outing, leastCents] as const;
          const drawn = Array.from(day.weight, () => random.between(0, 1) ** 4);
          const all = drawn.reduce((a, b) => a + b);
          day.weight.set(drawn.map((one) => one / all));
          const fixed = fixedCents(problem, day, limitCents, slotCents);
          offer(problem, day, fixed, 0, {
            leastCents,
            cheapest: new Int32Array(size),
            share: new Float64Array(size),
          });
          return [outing, leastCents] as const;
        }),
      );
      for (const route of days.routes) {
        for (const outing of outingsOf(list, days, route)) {
          const things = outing.limits.reduce((sum, limit, at) => sum + outing.amounts[at]! * limitCents[limit]!, 0);
          const routeCents = route.run.cents + things + slotCents[route.slot]!;
          let sum = 0;
          for (const block of route.run.stops) sum += borne.get(outing)![block]!;
          expect(sum).toBeLessThanOrEqual(routeCents + 1e-6);
          nearest = Math.max(nearest, sum / routeCents);
        }
      }
    }
    // Were it far below what routes cost, it would be true and of no use.
    expect(nearest).toBeGreaterThan(0.7);
  });
});

describe("the fluid bound", () => {
  it("claims nothing without time, and no less the more it has", () => {
    const { operation } = contestedOperation(10);
    const calendar = createCalendar(operation.settings);
    const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
    expect(
      fluidBound(
        problem,
        () => true,
        () => undefined,
      ),
    ).toMatchObject({
      boundCents: Number.NEGATIVE_INFINITY,
      isFinished: false,
    });
    const told: number[] = [];
    const { boundCents, isFinished } = fluidBound(
      problem,
      () => false,
      (cents) => told.push(cents),
    );
    expect(isFinished).toBe(true);
    expect(told.length).toBeGreaterThan(1);
    expect(told).toEqual(told.toSorted((a, b) => a - b));
    expect(told.at(-1)).toBe(boundCents);
  });
});

describe("what a day's blocks bear", () => {
  const operation = generateOperation({ orders: 24, crews: 1, days: 1, seed: 4 });
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const visits = leastVisits(problem);
  const { list } = everyOuting(problem);
  const dayOf = createFluidDays(problem, visits);
  const days = list.flatMap((outing) => dayOf(outing) ?? []);

  it("is of the road no more than any tour of their fields drives", () => {
    const { travelMin, travelKm, places, placeOfBase, blocks, open } = problem;
    const pads = [...new Set(open.map((block) => blocks[block]!.field))].map((field) => ({
      field,
      pad: visits.padsOf(field)[0]!,
    }));
    const base = placeOfBase[0]!;
    for (const [road, half] of [
      [travelMin, visits.min],
      [travelKm, visits.km],
    ] as const) {
      const way = (from: number, to: number) => road[from * places.length + to]!;
      const outAndHome =
        Math.min(...pads.map(({ pad }) => way(base, pad))) + Math.min(...pads.map(({ pad }) => way(pad, base)));
      for (const first of pads) {
        // On to the nearest each time: tours hardly longer than the bound.
        let rest = pads;
        let at = first;
        let tour = way(base, first.pad);
        let borne = outAndHome / 2;
        for (;;) {
          borne += half[at.field]!;
          expect(borne).toBeLessThanOrEqual(tour + way(at.pad, base) + 1e-9);
          rest = rest.filter((one) => one !== at);
          if (rest.length === 0) break;
          const from = at;
          at = rest.reduce((a, b) => (way(from.pad, b.pad) < way(from.pad, a.pad) ? b : a));
          tour += way(from.pad, at.pad);
        }
      }
    }
  });

  it("is one visit to a field, however many of its blocks are worked", () => {
    expect(days.length).toBeGreaterThan(0);
    for (const { outing, block, busyMin, workMin } of days) {
      const { setupMin, packupMin } = problem.types[outing.option.type]!;
      const borne = new Map<number, number>();
      block.forEach((one, at) => {
        const { field } = problem.blocks[one]!;
        borne.set(field, (borne.get(field) ?? 0) + busyMin[at]! - workMin[at]!);
      });
      for (const [field, min] of borne)
        expect(min).toBeCloseTo(Math.ceil(setupMin) + Math.ceil(packupMin) + visits.min[field]!, 6);
    }
  });

  it("is of going out no more than that and overtime cost, however long the day", () => {
    const { standardMin, overtimeCentsPerMin } = problem.routes;
    const random = createRandom(4, "going out");
    const size = problem.blocks.length;
    let over = 0;
    for (const day of days) {
      const { slot } = day.outing;
      day.weight.fill(0);
      day.weight[day.weight.length - 1] = 1;
      for (let draw = 0; draw < 20; draw++) {
        const fixed = random.between(0, 2 * overtimeCentsPerMin[slot]! * standardMin[slot]!);
        const share = new Float64Array(size);
        const leastCents = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
        offer(problem, day, fixed, 0, { leastCents, cheapest: new Int32Array(size), share });
        let dutyMin = day.baseMin;
        let borne = 0;
        day.block.forEach((block, at) => {
          if (dutyMin + day.busyMin[at]! > day.baseMin + day.longestMin) return;
          dutyMin += day.busyMin[at]!;
          borne += fixed * share[block]!;
        });
        const overMin = Math.max(0, dutyMin - standardMin[slot]!);
        if (overMin > 0) over++;
        expect(borne).toBeLessThanOrEqual(fixed + overMin * overtimeCentsPerMin[slot]! + 1e-6);
      }
    }
    expect(over).toBeGreaterThan(0);
  });
});
