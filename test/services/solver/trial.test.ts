import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../services/solver/compile.ts";
import { promise } from "../../../services/solver/insertion.ts";
import { freeKits, kitOf } from "../../../services/solver/kits.ts";
import { prepareOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { solve } from "../../../services/solver/solve.ts";
import { createDayRun, createState, setOutfit } from "../../../services/solver/state.ts";
import { tryBlock, tryOn } from "../../../services/solver/trial.ts";
import { windowOverlap } from "../../../services/solver/windowOverlap.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { lockSchema } from "../../../shared/model/locks.ts";
import { kindsOperation } from "../../support/kindsOperation.ts";

/** A generated week as the search leaves it. */
function searched(seed: number, iterations: number) {
  const operation = generateOperation({ orders: 30 + 12 * seed, crews: 3 + (seed % 3), days: 4, seed });
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const { state } = solve(problem.routes, { random: createRandom(seed), doneShare: (done) => done / iterations });
  return { problem, state };
}

describe("trying a block", () => {
  it("passes over no place where it would run: what the chains forbid, the rules forbid", () => {
    let forbidden = 0;
    let allowed = 0;
    for (let seed = 1; seed <= 6; seed++) {
      const { problem, state } = searched(seed, 40);
      const run = createDayRun(problem.routes.stride);
      const promised = new Float64Array(problem.routes.stride);
      const holdAgainst = (slot: number, block: number) => {
        if (promise(state, promised, block, slot) < 0) promised.fill(Number.POSITIVE_INFINITY);
        for (let place = 0; place <= state.count[slot]!; place++) {
          const runs = state.rules!.run(slot, block, place, run);
          if (runs) allowed++;
          if (promised[place] !== Number.POSITIVE_INFINITY) continue;
          forbidden++;
          expect(runs, `seed ${seed}, block ${block}, slot ${slot}, place ${place}`).toBe(false);
        }
      };
      for (const block of problem.open) {
        if (state.slotOf[block]! >= 0) continue;
        for (const slot of problem.slotsOfBlock[block]!) {
          const kit = kitOf(state, slot);
          for (const each of kit === null ? freeKits(problem, state, slot) : [kit]) {
            if (problem.work.minutes(block, each.signature) === 0) continue;
            setOutfit(state, slot, each);
            const overlapMin = windowOverlap(problem, problem.blocks[block]!.ground, each.option.type, slot);
            for (let place = 0; overlapMin === 0 && place <= state.count[slot]!; place++) {
              expect(state.rules!.run(slot, block, place, run)).toBe(false);
            }
            holdAgainst(slot, block);
            setOutfit(state, slot, kit);
          }
        }
      }
    }
    expect(forbidden).toBeGreaterThan(500);
    expect(allowed).toBeGreaterThan(20);
  });

  it("finds the same place as without chains, with every kit", () => {
    let found = 0;
    for (let seed = 1; seed <= 6; seed++) {
      const { problem, state } = searched(seed, 1);
      const withChains = tryOn(problem, state);
      const without = {
        ...tryOn(problem, state, false),
        kitsOf: (slot: number) => freeKits(problem, state, slot),
      };
      for (const block of problem.open) {
        if (state.slotOf[block]! >= 0) continue;
        const trial = tryBlock(problem, withChains, block, false);
        expect(trial).toEqual(tryBlock(problem, without, block, false));
        if (trial !== null) found++;
      }
    }
    expect(found).toBeGreaterThan(0);
  });

  it("finds a place for what only the second of two locked types can do", () => {
    const operation = kindsOperation(true);
    const { id, shifts } = operation.fleet.crews[0]!;
    const lock = lockSchema.parse({ crewId: id, date: shifts[0]!.date, outfit: { aircraftIds: ["W1", "S1"] } });
    const { problem } = prepareOperation({ ...operation, locks: [lock] });
    const empty = tryOn(problem, createState(problem.routes));
    const orders = problem.blocks
      .filter((_, block) => tryBlock(problem, empty, block, true) !== null)
      .map(({ block }) => block.orderId);
    expect([...new Set(orders)].sort()).toEqual(["O-FLAT", "O-GRAIN", "O-STEEP"]);
  });
});
