import { describe, expect, it } from "vitest";
import { createRandom } from "../../../../services/solver/random.ts";
import type { RouteProblem, State } from "../../../../services/solver/routes.ts";
import { type Progress, solve } from "../../../../services/solver/solve.ts";
import { totalCents } from "../../../../services/solver/state.ts";
import { evaluateState, stopsOf } from "./evaluateSlot.ts";
import { randomRoutes, type Shape } from "./randomRoutes.ts";
import { snapshot } from "./snapshot.ts";

const iterations = 150;
const problemsEach = 25;
const shapes: Shape[] = [
  { windowsADay: 1, hours: true, roads: "plane" },
  { windowsADay: 3, hours: false, roads: "plane" },
  { windowsADay: 1, hours: true, roads: "any" },
  { windowsADay: 1, hours: true, roads: "plane", isPlain: true },
];
const problems = shapes.flatMap((shape, index) =>
  Array.from({ length: problemsEach }, (_, problem) => {
    const seed = 90_000 + 1000 * index + problem;
    return { seed, shape };
  }),
);

interface Solved {
  readonly state: State;
  readonly iterations: number;
  readonly reports: Progress[];
}

/** Stops after `stopAt` iterations, though it means to go on. */
function solved(routes: RouteProblem, seed: number, stopAt = iterations): Solved {
  const reports: Progress[] = [];
  const { state, iterations: made } = solve(routes, {
    random: createRandom(seed),
    doneShare: (done) => (done >= stopAt ? 1 : done / iterations),
    onProgress: (progress) => reports.push(progress),
  });
  return { state, iterations: made, reports };
}

describe("a search over random problems", () => {
  it("ends with the best that it has reported, and costs what its stops cost", () => {
    let better = 0;
    for (const { seed, shape } of problems) {
      const { state, reports } = solved(randomRoutes(seed, shape), seed);
      const told = reports.map(({ totalCents: cents }) => cents);
      for (const [at, cents] of told.entries()) {
        if (at > 0) expect(cents, `problem ${seed}, report ${at}`).toBeLessThanOrEqual(told[at - 1]!);
      }
      expect(totalCents(state), `problem ${seed}`).toBeCloseTo(told.at(-1)!, 6);
      expect(totalCents(state), `problem ${seed}`).toBeCloseTo(evaluateState(state), 6);
      if (told.at(-1)! < told[0]!) better++;
    }
    // Some of the problems are too small to be improved upon.
    expect(better).toBeGreaterThan(problems.length / 2);
  });

  it("plans no block twice, and none where it may not be", () => {
    let planned = 0;
    for (const { seed, shape } of problems) {
      const routes = randomRoutes(seed, shape);
      const { state } = solved(routes, seed);
      const slotOf = new Int32Array(routes.blockCount).fill(-1);
      for (let slot = 0; slot < routes.slotCount; slot++) {
        for (const block of stopsOf(state, slot)) {
          expect(slotOf[block], `problem ${seed}, block ${block}`).toBe(-1);
          expect(routes.could[block * routes.slotCount + slot], `problem ${seed}, block ${block}`).toBe(1);
          slotOf[block] = slot;
          planned++;
        }
      }
      expect(state.slotOf, `problem ${seed}`).toEqual(slotOf);
      expect(state.planned, `problem ${seed}`).toBe(slotOf.filter((slot) => slot >= 0).length);
    }
    expect(planned).toBeGreaterThan(4 * problems.length);
  });

  it("is the same for the same seed and iterations, and another for another seed", () => {
    let others = 0;
    for (const { seed, shape } of problems) {
      const once = solved(randomRoutes(seed, shape), 1);
      const again = solved(randomRoutes(seed, shape), 1);
      expect(again.iterations).toBe(iterations);
      expect(again.reports, `problem ${seed}`).toEqual(once.reports);
      expect(snapshot(again.state), `problem ${seed}`).toEqual(snapshot(once.state));
      const other = solved(randomRoutes(seed, shape), 2);
      if (JSON.stringify(other.reports) !== JSON.stringify(once.reports)) others++;
    }
    expect(others).toBeGreaterThan(problems.length / 2);
  });

  it("gives the best so far when it is interrupted", () => {
    let cutShort = 0;
    for (const { seed, shape } of problems) {
      const whole = solved(randomRoutes(seed, shape), seed);
      for (const stopAt of [0, 1, 7, 40]) {
        const part = solved(randomRoutes(seed, shape), seed, stopAt);
        expect(part.iterations).toBe(stopAt);
        const until = whole.reports.slice(0, -1).filter((report) => report.iterations <= stopAt);
        expect(part.reports.slice(0, -1).map(({ totalCents: cents }) => cents)).toEqual(
          until.map(({ totalCents: cents }) => cents),
        );
        expect(totalCents(part.state), `problem ${seed} after ${stopAt}`).toBeCloseTo(until.at(-1)!.totalCents, 6);
        expect(totalCents(part.state), `problem ${seed} after ${stopAt}`).toBeCloseTo(evaluateState(part.state), 6);
        if (until.length < whole.reports.length - 1) cutShort++;
      }
    }
    expect(cutShort).toBeGreaterThan(problems.length);
  });
});
