import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ClosedCycle, cycleLimit, meanValuesOf } from "../../../shared/fieldwork/closedCycle.ts";
import { anyCycle, singleServers } from "./closedCycles.ts";
import { machineRepair, meanValueAnalysis } from "./queueFormulas.ts";

const roundS = ({ stations, flightS }: ClosedCycle) => stations.reduce((sum, { serviceS }) => sum + serviceS, flightS);

describe("limit of a closed cycle", () => {
  // Lazowska et al., chapter 5: demands 0.605, 2.1, 1.35 and delay 15 make 19.055 a round; the slowest gives 1 / 2.1.
  it.each([
    [3, 3 / 19.055, "aircraft"],
    [9, 9 / 19.055, "aircraft"],
    [10, 1 / 2.1, "station"],
  ] as const)("of %d is set by the round or by the slowest station", (aircraft, perS, limitedBy) => {
    const limit = cycleLimit(singleServers(aircraft, [0.605, 2.1, 1.35], 15));
    expect(limit.perS).toBeCloseTo(perS, 12);
    expect(limit).toMatchObject({ limitedBy, slowest: 1 });
    expect(limit.aircraftEnough).toBeCloseTo(19.055 / 2.1, 12);
  });

  it("two points are one that is twice as fast: 3 min at 2 points, 8 min of flight, enough from 11 x 2 / 3 = 7.3", () => {
    const limit = cycleLimit({ aircraft: 8, stations: [{ serviceS: 180, servers: 2 }], flightS: 480 });
    expect(limit.perS).toBeCloseTo(2 / 180, 12);
    expect(limit.limitedBy).toBe("station");
    expect(limit.aircraftEnough).toBeCloseTo(22 / 3, 12);
  });
});

describe("means with times that vary at random", () => {
  // Inputs: Lazowska et al., Quantitative System Performance, 1984, chapter 6; outputs COMPUTED.
  it.each([
    [1, 0.0525],
    [2, 0.1031],
    [3, 0.1515],
  ])("%d customers, D = 0.605, 2.1, 1.35, Z = 15: X = %d", (customers, throughput) => {
    expect(meanValuesOf(singleServers(customers, [0.605, 2.1, 1.35], 15)).perS).toBeCloseTo(throughput, 4);
    expect(meanValueAnalysis([0.605, 2.1, 1.35], 15, customers).throughput).toBeCloseTo(throughput, 4);
  });

  it("3 machines, 2 repairers, up 10 h, repair 8 h: 1.4034 down (machine-repair model, COMPUTED)", () => {
    const { perS } = meanValuesOf({ aircraft: 3, stations: [{ serviceS: 8, servers: 2 }], flightS: 10 });
    // Machines that are up fail at perS, each once in 10.
    expect(3 - 10 * perS).toBeCloseTo(1.4034, 4);
    expect(machineRepair(3, 2, 10, 8).down).toBeCloseTo(1.4034, 4);
  });

  it("6 aircraft, 2 pads, fly 8 min, service 3 min: 0.4945 a minute, 0.561 waiting (machine-repair model, COMPUTED)", () => {
    const { perS, stations } = meanValuesOf({ aircraft: 6, stations: [{ serviceS: 3, servers: 2 }], flightS: 8 });
    expect(perS).toBeCloseTo(0.4945, 4);
    expect(stations[0]!.waiting).toBeCloseTo(0.561, 3);
    expect(stations[0]!.waitS).toBeCloseTo(6 / 0.4945 - 8 - 3, 2);
    expect(stations[0]!.busyFrac).toBeCloseTo((0.4945 * 3) / 2, 4);
  });

  it("are those of mean value analysis for any single-server stations", () => {
    const demands = fc.array(fc.double({ min: 0.01, max: 100, noNaN: true }), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        demands,
        fc.double({ min: 0, max: 1000, noNaN: true }),
        (n, d, z) => {
          const { perS, stations } = meanValuesOf(singleServers(n, d, z));
          const judge = meanValueAnalysis(d, z, n);
          expect(perS / judge.throughput).toBeCloseTo(1, 9);
          stations.forEach(({ waitS }, at) => {
            expect(Math.abs(waitS + d[at]! - judge.residences[at]!) / judge.residences[at]!).toBeLessThan(1e-8);
          });
        },
      ),
      { seed: 1, numRuns: 300 },
    );
  });

  it("are those of the machine-repair model for any one station", () => {
    const timeS = fc.double({ min: 0.01, max: 1000, noNaN: true });
    const count = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(count, count, timeS, timeS, (aircraft, servers, serviceS, flightS) => {
        const { perS, stations } = meanValuesOf({ aircraft, stations: [{ serviceS, servers }], flightS });
        const judge = machineRepair(aircraft, servers, flightS, serviceS);
        expect(perS / judge.throughput).toBeCloseTo(1, 9);
        expect(Math.abs(stations[0]!.waiting - judge.waiting)).toBeLessThan(1e-9 * aircraft);
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it("lie between both bounds, and an aircraft or a server more never costs sorties", () => {
    fc.assert(
      fc.property(anyCycle(100), (cycle) => {
        const { perS, stations } = meanValuesOf(cycle);
        expect(perS).toBeLessThanOrEqual(cycleLimit(cycle).perS * (1 + 1e-9));
        // At worst every aircraft finds all others before it at every station (chapter 5, too).
        const worstS = cycle.aircraft * roundS(cycle) - (cycle.aircraft - 1) * cycle.flightS;
        expect(perS).toBeGreaterThanOrEqual((cycle.aircraft / worstS) * (1 - 1e-9));
        // Little's law: all aircraft are somewhere.
        const waiting = stations.reduce((sum, station) => sum + station.waiting, 0);
        expect(perS * roundS(cycle) + waiting).toBeCloseTo(cycle.aircraft, 6);
        expect(meanValuesOf({ ...cycle, aircraft: cycle.aircraft + 1 }).perS).toBeGreaterThanOrEqual(perS * (1 - 1e-9));
        cycle.stations.forEach((station, at) => {
          const stronger = cycle.stations.with(at, { ...station, servers: station.servers + 1 });
          expect(meanValuesOf({ ...cycle, stations: stronger }).perS).toBeGreaterThanOrEqual(perS * (1 - 1e-9));
        });
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});
