import { describe, expect, it } from "vitest";
import { createInsertions, insertAt, insertionCents } from "../../../services/solver/insertion.ts";
import { cut } from "../../../services/solver/removal.ts";
import { createDayRun, createState, setOutfit } from "../../../services/solver/state.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { compileInstance, toursOf } from "./compileInstance.ts";
import { distancesBetween, real } from "./conventions.ts";
import type { RoutingInstance } from "./instance.ts";
import { verify } from "./verify.ts";

const instances = 120;
const movesEach = 12;

function randomInstance(seed: number): RoutingInstance {
  const random = seededRandom(seed);
  const between = (least: number, most: number) => least + Math.floor(random() * (most - least + 1));
  const places = 8;
  const at = Array.from({ length: places }, () => ({ x: between(0, 20), y: between(0, 20) }));
  const distance = distancesBetween(at, { ...real, arc: (way) => Math.ceil(way) });
  return {
    name: "drawn",
    family: "reload",
    places,
    distance,
    duration: distance,
    stops: Array.from({ length: places - 1 }, (_, stop) => {
      const from = between(0, 100);
      return {
        place: stop + 1,
        demand: between(1, 6),
        serviceTime: between(1, 8),
        from,
        to: from + between(10, 120),
        release: between(0, 60),
        prize: undefined,
      };
    }),
    vehicles: [
      {
        count: 2,
        startPlace: 0,
        endPlace: 0,
        capacity: between(8, 14),
        fixedCost: between(0, 50),
        unitCost: 1,
        from: between(0, 20),
        to: between(150, 260),
        maxDuration: Infinity,
        allowed: null,
        reloads: true,
      },
    ],
  };
}

/** By the verifier of tours, over every way to cut them into trips; infinite where none will do. */
function leastByTrying(instance: RoutingInstance, stops: readonly number[]): number {
  if (stops.length === 0) return 0;
  let least = Infinity;
  for (let cuts = 0; cuts < 2 ** (stops.length - 1); cuts++) {
    const trips: number[][] = [[]];
    stops.forEach((stop, at) => {
      if (at > 0 && (cuts & (1 << (at - 1))) !== 0) trips.push([]);
      trips.at(-1)!.push(stop);
    });
    const { cost, faults } = verify(instance, [{ vehicle: 0, trips }]);
    if (faults.every((fault) => /must be visited/.test(fault))) least = Math.min(least, cost);
  }
  return least;
}

describe("stops in trips, beside the verifier asked of every way to cut them", () => {
  it("are promised, and cost, the least of all of them", () => {
    const done = { insert: 0, never: 0, cut: 0, twoTrips: 0 };
    for (let seed = 1; seed <= instances; seed++) {
      const instance = randomInstance(seed);
      const random = seededRandom(1000 + seed);
      const routes = compileInstance(instance);
      const state = createState(routes);
      const run = createDayRun(routes.stride);
      for (const slot of [0, 1]) setOutfit(state, slot, state.pool.propose(slot, random));
      for (let move = 0; move < movesEach; move++) {
        const slot = random() < 0.7 ? 0 : 1;
        const stopsNow = () =>
          Array.from(state.sequence.subarray(slot * routes.stride, slot * routes.stride + state.count[slot]!));
        const before = stopsNow();
        const out = Array.from(state.slotOf.keys()).filter((block) => state.slotOf[block]! < 0);
        const wasCents = leastByTrying(instance, before);
        expect(state.slotCents[slot]).toBe(wasCents);
        if (out.length === 0 || (before.length > 2 && random() < 0.25)) {
          if (before.length < 2) continue;
          cut(state, run, slot, Math.floor(random() * before.length), 1, 0, 0);
          done.cut++;
          continue;
        }
        const block = out[Math.floor(random() * out.length)]!;
        const insertions = createInsertions(routes);
        const cents = insertionCents(state, insertions, block, slot);
        const least = Math.min(
          ...[...before, -1].map((_, at) => leastByTrying(instance, before.toSpliced(at, 0, block))),
        );
        expect(cents, `instance ${seed}`).toBe(least - wasCents);
        if (cents === Infinity) {
          done.never++;
          continue;
        }
        const place = insertions.place[block * routes.slotCount + slot]!;
        expect(insertAt(state, run, slot, block, place)).toBe(true);
        expect(stopsNow()).toEqual(before.toSpliced(place, 0, block));
        done.insert++;
      }
      for (const tour of toursOf(state)) {
        const { cost, faults } = verify(instance, [tour]);
        expect(faults.filter((fault) => !/must be visited/.test(fault))).toEqual([]);
        expect(cost).toBe(leastByTrying(instance, tour.trips.flat()));
        if (tour.trips.length > 1) done.twoTrips++;
      }
    }
    for (const count of Object.values(done)) expect(count).toBeGreaterThan(20);
  });
});
