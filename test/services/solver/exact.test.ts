import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { totalCents } from "../../../services/solver/state.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { contestedOperation } from "../../support/exact/contestedOperation.ts";
import { dearerCents, judged, optimumOf, overlooked, roundingCents, searched } from "../../support/exact/judge.ts";
import { leftOut, servedCents } from "../../support/exact/leftOut.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

/** One of each roster and two more, small enough that all of their routes are walked in a second or so; `bench exact` does a hundred. */
const seeds = [10, 15, 18, 24, 50, 59, 61, 79];

describe("plans of small operations", () => {
  it.each(seeds)("are as good as the best there is, and both keep every rule: seed %i", (seed) => {
    const optimum = optimumOf(contestedOperation(seed).operation, linear);
    const { problem, choice, state: best } = optimum;
    expect(totalCents(best)).toBeCloseTo(choice.totalCents, 2);
    expect(judged(problem, best).breaches).toEqual([]);
    // Each of the score's seven parts is rounded to a cent.
    expect(Math.abs(judged(problem, best).plan.score.totalCents - choice.totalCents)).toBeLessThanOrEqual(3.5);

    const [one, other] = [1, 2].map((search) => {
      const state = searched(problem, { seed: search, iterations: 2000 });
      expect(judged(problem, state).breaches).toEqual([]);
      expect(overlooked(optimum, state)).toEqual([]);
      return state;
    });
    const found = dearerCents(optimum, one!) < dearerCents(optimum, other!) ? one! : other!;
    expect(dearerCents(optimum, found)).toBeGreaterThan(-roundingCents);
    expect(dearerCents(optimum, found)).toBeLessThan(roundingCents);
    // What is left out is worth as much as what the best leaves out, and none of it goes into any plan for nothing: "does not fit" is true there.
    expect(servedCents(optimum, found)).toBeCloseTo(servedCents(optimum, best), 2);
    for (const { forcedCents } of leftOut(optimum, linear, found)) expect(forcedCents).toBeGreaterThan(-roundingCents);
  });
});

/** Nothing here may change how orders are cut into blocks, which would make another problem of it. */
function uncut(seed: number): Operation {
  const { operation } = contestedOperation(seed);
  return { ...operation, orders: operation.orders.map((order) => ({ ...order, maySplit: false })) };
}

const more: readonly (readonly [string, (operation: Operation) => Operation])[] = [
  [
    "a shift that ends half an hour later",
    (operation) =>
      withFleet(operation, {
        crews: operation.fleet.crews.map((crew) => ({
          ...crew,
          shifts: crew.shifts.map((shift) => ({ ...shift, to: halfAnHourAfter(shift.to) })),
        })),
      }),
  ],
  [
    "fields that are never closed",
    (operation) => ({
      ...operation,
      fields: {
        ...operation.fields,
        features: operation.fields.features.map((field) => ({
          ...field,
          properties: { ...field.properties, closures: [] },
        })),
      },
    }),
  ],
  [
    "another aircraft",
    (operation) => {
      const [first] = operation.fleet.aircraft;
      return withFleet(operation, {
        aircraft: [
          ...operation.fleet.aircraft,
          { ...first!, id: "A9" as (typeof operation.fleet.aircraft)[number]["id"], outOfService: [] },
        ],
      });
    },
  ],
  [
    "another battery set",
    (operation) =>
      withFleet(operation, {
        batteryStocks: operation.fleet.batteryStocks.map((stock) => ({ ...stock, sets: stock.sets + 1 })),
      }),
  ],
];

describe("the best plan", () => {
  it("is never dearer with more to work with, and cheaper with each for some operation", () => {
    const gains = new Map(more.map(([name]) => [name, 0]));
    for (const seed of [50, 66, 78]) {
      const operation = uncut(seed);
      const costCents = (changed: Operation) => optimumOf(changed, linear, "any").choice.totalCents;
      const beforeCents = costCents(operation);
      for (const [name, change] of more) {
        const gainCents = beforeCents - costCents(change(operation));
        expect(gainCents, `seed ${seed}, ${name}`).toBeGreaterThan(-roundingCents);
        gains.set(name, gains.get(name)! + Math.max(0, gainCents));
      }
    }
    for (const [name, cents] of gains) expect(cents, name).toBeGreaterThan(1);
  }, 120_000);
});

describe("one more order", () => {
  it("never lowers what the best plan brings, and raises it for some operation", () => {
    let mostCents = 0;
    for (const seed of [63, 78]) {
      const operation = uncut(seed);
      // A mandatory order's value hangs on the highest price of all: that order stays.
      const highest = Math.max(...operation.orders.map(({ priceCentsPerHa }) => priceCentsPerHa));
      const wholeCents = broughtCents(operation);
      for (const order of operation.orders.filter(({ priceCentsPerHa }) => priceCentsPerHa < highest)) {
        const without = { ...operation, orders: operation.orders.filter((one) => one !== order) };
        const moreCents = wholeCents - broughtCents(without);
        expect(moreCents, `seed ${seed}, ${order.id}`).toBeGreaterThan(-roundingCents);
        mostCents = Math.max(mostCents, moreCents);
      }
    }
    expect(mostCents).toBeGreaterThan(1);
  }, 120_000);
});

/** Value served less all costs, in the best plan. */
function broughtCents(operation: Operation): number {
  const { problem, choice } = optimumOf(operation, linear, "any");
  return problem.routes.valueCents.reduce((sum, cents) => sum + cents, 0) - choice.totalCents;
}

function withFleet(operation: Operation, fleet: Partial<Operation["fleet"]>): Operation {
  return { ...operation, fleet: { ...operation.fleet, ...fleet } };
}

function halfAnHourAfter(clock: string): string {
  const minutes = Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3)) + 30;
  return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}
