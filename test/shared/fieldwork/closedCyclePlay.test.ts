import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ClosedCycle, cycleLimit, meanValuesOf } from "../../../shared/fieldwork/closedCycle.ts";
import { playCycle } from "../../../shared/fieldwork/closedCyclePlay.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { anyCycle, singleServers } from "./closedCycles.ts";
import { machineRepair, meanValueAnalysis } from "./queueFormulas.ts";

const always = (meanS: number) => meanS;
function exponential(seed: number): (meanS: number) => number {
  const random = seededRandom(seed);
  return (meanS) => -meanS * Math.log(1 - random());
}
const within1Pct = (got: number, expected: number) => expect(Math.abs(got / expected - 1)).toBeLessThan(0.01);

describe("a cycle played with times that never vary", () => {
  // One point, 3 to load, 8 to fly. A: loads 0-3, lands 11, 22; B: loads 3-6, lands 14, 25.
  it("two aircraft at one point land at 11, 14, 22, 25", () => {
    const cycle = singleServers(2, [3], 8);
    expect([1, 2, 3, 4].map((sorties) => playCycle(cycle, sorties, always).totalS)).toEqual([11, 14, 22, 25]);
  });

  // Three to change (two people), 2 to load (one point), 4 to fly. A and B change 0-3, C 3-6. A loads 3-5 and lands at 9,
  // B loads 5-7 and lands at 11, C loads 7-9 and lands at 13. A changes 9-12, loads 12-14, lands at 18.
  it("three aircraft, two stations, waits in both", () => {
    const stations = [
      { serviceS: 3, servers: 2 },
      { serviceS: 2, servers: 1 },
    ];
    const cycle = { aircraft: 3, stations, flightS: 4 };
    expect([1, 2, 3, 4].map((sorties) => playCycle(cycle, sorties, always).totalS)).toEqual([9, 11, 13, 18]);
    // Up to the third landing: C waited 3 to change, B 2 and C 1 to load; A, B and C, then A and B again came to change.
    const { waitS } = playCycle(cycle, 3, always);
    expect(waitS).toEqual([3 / 5, 3 / 4]);
  });

  it("keeps to the asymptotic bounds and never falls further behind them than one round", () => {
    fc.assert(
      fc.property(anyCycle(12), fc.integer({ min: 1, max: 400 }), (cycle, sorties) => {
        const { totalS } = playCycle(cycle, sorties, always);
        const { perS } = cycleLimit(cycle);
        const roundS = cycle.stations.reduce((sum, { serviceS }) => sum + serviceS, cycle.flightS);
        expect(totalS).toBeGreaterThanOrEqual((sorties / perS) * (1 - 1e-9));
        expect(totalS).toBeLessThanOrEqual((sorties / perS + roundS) * (1 + 1e-9));
        expect(playCycle(cycle, sorties, always)).toEqual(playCycle(cycle, sorties, always));
      }),
      { seed: 4, numRuns: 500 },
    );
  });
});

describe("a cycle played with exponential times", () => {
  const sorties = 200_000;

  it.each([1, 2, 3])("meets mean value analysis: D = 0.605, 2.1, 1.35, Z = 15, %d customers", (customers) => {
    const played = playCycle(singleServers(customers, [0.605, 2.1, 1.35], 15), sorties, exponential(customers));
    within1Pct(sorties / played.totalS, meanValueAnalysis([0.605, 2.1, 1.35], 15, customers).throughput);
  });

  it("meets mean value analysis, queue by queue, where they are long", () => {
    const demands = [3, 2.5, 2.8];
    const judge = meanValueAnalysis(demands, 4, 8);
    const played = playCycle(singleServers(8, demands, 4), sorties, exponential(5));
    within1Pct(sorties / played.totalS, judge.throughput);
    // A wait varies more than a throughput.
    played.waitS.forEach((waitS, at) => {
      expect(Math.abs((waitS + demands[at]!) / judge.residences[at]! - 1)).toBeLessThan(0.03);
    });
  });

  it.each([
    [3, 2, 10, 8],
    [6, 2, 8, 3],
    [9, 3, 8, 4],
  ])("meets machine repair: %d aircraft, %d points, %d to fly, %d to load", (aircraft, points, flyS, loadS) => {
    const cycle: ClosedCycle = { aircraft, stations: [{ serviceS: loadS, servers: points }], flightS: flyS };
    const played = playCycle(cycle, sorties, exponential(6));
    within1Pct(sorties / played.totalS, machineRepair(aircraft, points, flyS, loadS).throughput);
  });

  it("meets the convolution where no textbook formula reaches: two stations of two and three servers", () => {
    const stations = [
      { serviceS: 3, servers: 2 },
      { serviceS: 5, servers: 3 },
    ];
    const cycle = { aircraft: 7, stations, flightS: 6 };
    const played = playCycle(cycle, sorties, exponential(7));
    const means = meanValuesOf(cycle);
    within1Pct(sorties / played.totalS, means.perS);
    means.stations.forEach(({ waitS }, at) => {
      expect(Math.abs(played.waitS[at]! - waitS)).toBeLessThan(0.03 * (waitS + stations[at]!.serviceS));
    });
  });

  it("the way in which flights vary changes nothing: fixed ones, exponential loading", () => {
    const draw = exponential(8);
    const cycle: ClosedCycle = { aircraft: 6, stations: [{ serviceS: 3, servers: 2 }], flightS: 8 };
    const played = playCycle(cycle, sorties, (meanS) => (meanS === 8 ? 8 : draw(meanS)));
    within1Pct(sorties / played.totalS, machineRepair(6, 2, 8, 3).throughput);
  });
});
