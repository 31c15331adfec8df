import { MessageChannel } from "node:worker_threads";
import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import {
  type Prepared,
  planFromSnapshot,
  planOperation,
  prepareOperation,
} from "../../../../services/solver/planOperation.ts";
import { createRandom } from "../../../../services/solver/random.ts";
import type { State } from "../../../../services/solver/routes.ts";
import { type Snapshot, snapshotOf, stateFrom } from "../../../../services/solver/snapshot.ts";
import { type Exchange, type Progress, solve } from "../../../../services/solver/solve.ts";
import { totalCents } from "../../../../services/solver/state.ts";
import { exchangeOver } from "../../../../services/worker/exchangeOver.ts";
import type { ToThread } from "../../../../services/worker/threadMessages.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { sleepingAtInn } from "../../../support/inn.ts";
import { kindsOperation } from "../../../support/kindsOperation.ts";

const operation = generateOperation({ orders: 40, crews: 4, days: 5, seed: 21 });

function searched({ problem }: Prepared, iterations: number, seed: number, exchange?: Exchange) {
  const told: Progress[] = [];
  const { state } = solve(problem.routes, {
    random: createRandom(seed),
    doneShare: (done) => done / iterations,
    onProgress: (progress) => told.push(progress),
    ...(exchange === undefined ? {} : { exchange }),
  });
  return { state, told };
}

/** Everything of a state that a search or the writing of a plan looks at. */
function standing(state: State) {
  const { routes, count, sequence } = state;
  const { stride } = routes;
  return {
    sums: [state.unservedCents, state.slotsCents, state.planned, state.busy, totalCents(state)],
    slotOf: [...state.slotOf],
    slots: Array.from(count, (stops, slot) => {
      const held = slot * stride;
      const blocks = [...sequence.subarray(held, held + stops)];
      const chains = [
        state.placeAt,
        state.wayKm,
        state.endAt,
        state.latestAt,
        state.busyAt,
        state.leaveBy,
        state.backFrom,
      ];
      return stops === 0
        ? null
        : {
            outfit: { ...state.outfit[slot], profile: null, signature: null },
            places: [state.startPlace[slot], state.endPlace[slot]],
            day: [state.leaveMin[slot], state.backMin[slot], state.slotCents[slot], state.slotLoad[slot]],
            stops: blocks.map((block) => [block, state.startMin[block], state.endMin[block]]),
            // One more than stops: of the way home there is no place.
            chains: chains.map((list, at) => [...list.subarray(held, held + stops + (at === 0 ? 0 : 1))]),
          };
    }),
  };
}

/** Plans of another thread, as they lie in a port. */
function portWith(...snapshots: readonly Snapshot[]) {
  const { port1, port2 } = new MessageChannel();
  for (const snapshot of snapshots) {
    const message: ToThread = { kind: "better", snapshot };
    port2.postMessage(message);
  }
  return { port: port1, close: () => port1.close() };
}

describe("a plan handed to another search", () => {
  const there = prepareOperation(operation);
  const found = searched(there, 250, 3).state;
  const snapshot = snapshotOf(there.problem, found);

  it("stands there as it stood here, though outfits are numbered otherwise", () => {
    const here = prepareOperation(operation);
    searched(here, 5, 99);
    const state = stateFrom(here.problem, structuredClone(snapshot));
    expect(standing(state)).toEqual(standing(found));
    const { numbers, kits } = snapshotOf(here.problem, state);
    expect([...numbers]).toEqual([...snapshot.numbers]);
    expect(kits).toHaveLength(found.busy);
    expect(snapshot.totalCents).toBe(totalCents(found));
  });

  it("makes the plan that it makes here, byte for byte, and the checker passes it", () => {
    const controls = { random: createRandom(3), doneShare: (done: number) => done / 250 };
    const here = planOperation(operation, { seed: 3, ...controls });
    const plan = planFromSnapshot(prepareOperation(operation), snapshot, { seed: 3, iterations: 250 }, null);
    expect(JSON.stringify(plan)).toBe(JSON.stringify(here));
    expect(checkPlan(operation, plan).breaches).toEqual([]);
  });

  it("keeps where crews sleep away, and all that a state holds is handed over or worked out from it", () => {
    const away = prepareOperation(sleepingAtInn(operation, 25));
    const { state } = searched(away, 300, 8);
    const { routes } = away.problem;
    expect(state.endPlace.some((place, slot) => place !== routes.endPlace[slot])).toBe(true);
    const again = prepareOperation(sleepingAtInn(operation, 25));
    expect(standing(stateFrom(again.problem, structuredClone(snapshotOf(away.problem, state))))).toEqual(
      standing(state),
    );
    // Whoever gives a state more to hold has to see to `snapshot.ts`, and then to this list.
    expect(Object.keys(state).sort()).toEqual(
      [
        ...["backFrom", "backMin", "busy", "busyAt", "count", "endAt", "endMin", "endPlace", "latestAt", "leaveBy"],
        ...["leaveMin", "nextVersion", "outfit", "placeAt", "plain", "planned", "pool", "routes", "rules", "sequence"],
        ...["slotCents", "slotLoad", "slotOf", "slotsCents", "startMin", "startPlace", "unservedCents", "version"],
        "wayKm",
      ].sort(),
    );
  });

  it("keeps outfits of several types, numbered otherwise", () => {
    const two = prepareOperation(kindsOperation(true));
    const { state } = searched(two, 60, 1);
    expect(state.outfit.some((outfit) => outfit !== null && "also" in outfit)).toBe(true);
    const again = prepareOperation(kindsOperation(true));
    // Numbers that the other search does not have.
    again.problem.signatures.of({ ...again.problem.signatures.at(0), chargers: [], tender: 0, sets: 77 });
    const plans = [two, again].map((prepared) =>
      planFromSnapshot(prepared, structuredClone(snapshotOf(two.problem, state)), { seed: 1, iterations: 60 }, null),
    );
    expect(plans[1]).toEqual(plans[0]);
    expect(checkPlan(kindsOperation(true), plans[1]!).breaches).toEqual([]);
  });

  it("is taken over by a search that has nothing better, and searched on from", () => {
    const few = 20;
    const alone = searched(prepareOperation(operation), few, 4);
    expect(totalCents(alone.state)).toBeGreaterThan(snapshot.totalCents);

    const here = prepareOperation(operation);
    const { port, close } = portWith(snapshot);
    const { state, told } = searched(here, few, 4, exchangeOver(port, here.problem, true));
    close();
    expect(totalCents(state)).toBeLessThanOrEqual(snapshot.totalCents + 1e-6);
    expect(told.some((one) => Math.abs(one.totalCents - snapshot.totalCents) < 1e-6)).toBe(true);
    const plan = planFromSnapshot(here, snapshotOf(here.problem, state), { seed: 4, iterations: few }, null);
    expect(checkPlan(operation, plan).breaches).toEqual([]);
  });

  it("is left alone by a search that is to search alone, or that has a better one", () => {
    const few = 20;
    const alone = searched(prepareOperation(operation), few, 4);
    for (const [given, takesOver] of [
      [snapshot, false],
      [{ ...snapshot, totalCents: totalCents(alone.state) * 2 }, true],
    ] as const) {
      const here = prepareOperation(operation);
      const { port, close } = portWith(given);
      const { state } = searched(here, few, 4, exchangeOver(port, here.problem, takesOver));
      close();
      expect(standing(state)).toEqual(standing(alone.state));
    }
  });

  it("gives its routes to be put together anew, once, whatever it costs", () => {
    const columnsOf = (given: Snapshot | null, takesOver: boolean) => {
      const here = prepareOperation(operation);
      const { port, close } = given === null ? portWith() : portWith(given);
      const columns: number[] = [];
      const exchange = exchangeOver(port, here.problem, takesOver);
      solve(here.problem.routes, {
        random: createRandom(4),
        doneShare: (done) => done / 20,
        polish: {
          linear: {
            solve: (model) => {
              columns.push(model.columns.cost.length);
              return { status: "stopped" };
            },
            open: () => {
              throw new Error("no model is kept open here");
            },
          },
          limits: {},
        },
        exchange: { ...exchange, take: () => false },
      });
      close();
      return columns;
    };
    const alone = columnsOf(null, true);
    const dear = { ...snapshot, totalCents: snapshot.totalCents * 100 };
    expect(alone).toHaveLength(2);
    expect(columnsOf(dear, true)).toEqual(alone.map((count) => count + found.busy));
    expect(columnsOf(dear, false)).toEqual(alone);
  });

  it("goes on to better plans and holds every rule, however often it is handed over", () => {
    const here = prepareOperation(operation);
    let taken = 0;
    const exchange: Exchange = {
      offer: () => {},
      hear: () => false,
      take: (into, cents, share) => {
        const { port, close } = portWith(snapshot);
        const took = exchangeOver(port, here.problem, true).take(into, cents, share);
        close();
        if (took) taken++;
        return took;
      },
    };
    const { state } = searched(here, 200, 5, exchange);
    expect(taken).toBe(1);
    expect(totalCents(state)).toBeLessThan(snapshot.totalCents);
    const plan = planFromSnapshot(here, snapshotOf(here.problem, state), { seed: 5, iterations: 200 }, null);
    expect(checkPlan(operation, plan).breaches).toEqual([]);
  });
});
