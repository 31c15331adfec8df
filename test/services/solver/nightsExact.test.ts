import { beforeAll, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { totalCents } from "../../../services/solver/state.ts";
import { contestedOperation } from "../../support/exact/contestedOperation.ts";
import { judged, roundingCents, searched } from "../../support/exact/judge.ts";
import { nightsOptimum } from "../../support/exact/nights.ts";
import { sleepingAtInn } from "../../support/inn.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

/** On roads so slow that some of the weeks are better with a night at the inn. */
const roadKph = 8;

it.each([
  { seed: 15, roster: "one crew, three days", pays: false },
  { seed: 28, roster: "one crew, two days", pays: true },
  { seed: 40, roster: "one crew, two days", pays: true },
  { seed: 50, roster: "two crews, one of them a second day", pays: true },
])(
  "a small week by an inn is as good as the best there is, with a night away where that pays: $seed, $roster",
  ({ seed, pays }) => {
    const operation = sleepingAtInn(contestedOperation(seed).operation, roadKph);
    const { problem, homeCents, leastCents } = nightsOptimum(operation, linear);
    expect(problem.routes.nights.length).toBeGreaterThan(0);
    expect(homeCents - leastCents > 100).toBe(pays);
    const found = [1, 2].map((search) => {
      const state = searched(problem, { seed: search, iterations: 2000 });
      expect(judged(problem, state).breaches).toEqual([]);
      return totalCents(state);
    });
    expect(Math.abs(Math.min(...found) - leastCents)).toBeLessThan(roundingCents);
  },
);
