import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CycleDemand, cycleBound, cycleTime, leastCycleS, type Share } from "../../../shared/fieldwork/cycle.ts";
import { bestShare } from "../../../shared/fieldwork/share.ts";
import { evenly } from "../geo/shapes.ts";
import { exponentialTimes, fixedTimes, simulateCycle } from "./cycleSimulator.ts";

const nothing: CycleDemand = {
  overFieldS: 0,
  perSortieS: 0,
  perLoadS: 0,
  pumpS: 0,
  mixS: 0,
  airMaxS: Number.POSITIVE_INFINITY,
  changeS: 0,
  battery: undefined,
};

describe("the simulator that judges", () => {
  const loads = 200_000;
  const endless = Number.POSITIVE_INFINITY;

  it("6 aircraft, 2 pads, fly 8 min, service 3 min, exponential: 0.4945 a minute (M/M/2//6, COMPUTED)", () => {
    const share = { aircraft: 6, loads, sortiesPerSet: endless };
    const tookMin = simulateCycle({ ...nothing, perSortieS: 8, perLoadS: 3 }, share, 2, exponentialTimes(1));
    expect(loads / tookMin).toBeGreaterThan(0.4945 * 0.99);
    expect(loads / tookMin).toBeLessThan(0.4945 * 1.01);
  });

  it("3 machines, 2 repairers, up 10 h, repair 8 h: mean down 1.4034, so (3 - 1.4034) / 10 repairs an hour (COMPUTED)", () => {
    const share = { aircraft: 3, loads, sortiesPerSet: endless };
    const tookH = simulateCycle({ ...nothing, perSortieS: 10, perLoadS: 8 }, share, 2, exponentialTimes(2));
    expect(loads / tookH / ((3 - 1.4034) / 10)).toBeGreaterThan(0.99);
    expect(loads / tookH / ((3 - 1.4034) / 10)).toBeLessThan(1.01);
  });

  it("one station, exact mean value analysis: D = 2.1, Z = 15, N = 1, 2, 3 (Lazowska et al., chapter 6)", () => {
    // R(n) = D (1 + Q(n-1)), X(n) = n / (R(n) + Z), Q(n) = X(n) R(n).
    let queue = 0;
    for (let aircraft = 1; aircraft <= 3; aircraft++) {
      const residence = 2.1 * (1 + queue);
      const rate = aircraft / (residence + 15);
      queue = rate * residence;
      const share = { aircraft, loads, sortiesPerSet: endless };
      const took = simulateCycle({ ...nothing, perSortieS: 15, perLoadS: 2.1 }, share, 1, exponentialTimes(aircraft));
      expect(loads / took / rate).toBeGreaterThan(0.99);
      expect(loads / took / rate).toBeLessThan(1.01);
    }
  });
});

describe("cycle time", () => {
  // Four loads: 15 s mixing, 60 s loading, 200 s in the air each.
  const demand: CycleDemand = { ...nothing, overFieldS: 400, perSortieS: 100, perLoadS: 40, pumpS: 80, mixS: 60 };

  it("one aircraft: 15 + 4 x (60 + 200) = 1055 s", () => {
    const time = cycleTime(demand, { aircraft: 1, loads: 4, sortiesPerSet: 9 });
    expect(time).toEqual({ totalS: 1055, changes: 0 });
  });

  it("two aircraft, the second 60 s later: 15 + 60 + 2 x 260 = 595 s", () => {
    expect(cycleTime(demand, { aircraft: 2, loads: 4, sortiesPerSet: 9 }).totalS).toBe(595);
    expect(cycleBound(demand, { aircraft: 2, loads: 4, sortiesPerSet: 9 })).toEqual({
      boundS: 595,
      bottleneck: "aircraft",
    });
  });

  it("four aircraft wait for the loading point: 15 + 4 x 60 + 200 = 455 s", () => {
    const share = { aircraft: 4, loads: 4, sortiesPerSet: 9 };
    expect(cycleTime(demand, share).totalS).toBe(455);
    const slowPump = { ...demand, perSortieS: 10, overFieldS: 40, mixS: 0 };
    expect(cycleBound(slowPump, { aircraft: 2, loads: 4, sortiesPerSet: 9 }).bottleneck).toBe("loading");
  });

  it("slow mixing rules: 4 x 300 + 60 + 200 = 1460 s", () => {
    const share = { aircraft: 2, loads: 4, sortiesPerSet: 9 };
    expect(cycleTime({ ...demand, mixS: 1200 }, share).totalS).toBe(1460);
    expect(cycleBound({ ...demand, mixS: 1200 }, share)).toEqual({ boundS: 1460, bottleneck: "mixing" });
  });

  it("one aircraft, a set per sortie, three sets: the fourth use waits for the first set to be charged", () => {
    const battery = { sets: 3, bays: 1, chargeS: 900 };
    const share = { aircraft: 1, loads: 4, sortiesPerSet: 1 };
    // Lands at 275, at 275 + 30 + 260 = 565 and at 855. The first set is full at 275 + 900 = 1175: 1175 + 30 + 260.
    expect(cycleTime({ ...demand, changeS: 30, battery }, share)).toEqual({ totalS: 1465, changes: 3 });
    // Two bays change nothing for the first set; a fourth set does.
    expect(cycleTime({ ...demand, changeS: 30, battery: { ...battery, bays: 2 } }, share).totalS).toBe(1465);
    expect(cycleTime({ ...demand, changeS: 30, battery: { ...battery, sets: 4 } }, share).totalS).toBe(1145);
  });

  it("one set: 3 charges between 4 sorties, 15 + 4 x 260 + 3 x 930 = 3845 s", () => {
    const battery = { sets: 1, bays: 1, chargeS: 900 };
    const share = { aircraft: 1, loads: 4, sortiesPerSet: 1 };
    expect(cycleTime({ ...demand, changeS: 30, battery }, share).totalS).toBe(3845);
    expect(cycleBound({ ...demand, changeS: 30, battery }, share)).toEqual({ boundS: 3845, bottleneck: "batteries" });
  });

  const anyCycle = fc
    .record({
      aircraft: fc.integer({ min: 1, max: 5 }),
      loads: fc.integer({ min: 1, max: 60 }),
      sortiesPerSet: fc.integer({ min: 1, max: 4 }),
      spareSets: fc.integer({ min: 0, max: 6 }),
      bays: fc.integer({ min: 1, max: 4 }),
      hasBatteries: fc.boolean(),
      flyS: evenly(60, 300),
      sortieS: evenly(30, 150),
      loadS: evenly(15, 90),
      fillS: evenly(5, 60),
      mixS: evenly(5, 90),
      changeS: evenly(20, 300),
      chargeS: evenly(300, 2400),
    })
    .map((c): { demand: CycleDemand; share: Share } => ({
      demand: {
        overFieldS: c.flyS * c.loads,
        perSortieS: c.sortieS,
        perLoadS: c.loadS,
        pumpS: c.fillS * c.loads,
        mixS: c.mixS * c.loads,
        airMaxS: c.sortiesPerSet * (c.sortieS + c.flyS) + 1,
        changeS: c.changeS,
        battery: c.hasBatteries ? { sets: c.aircraft + c.spareSets, bays: c.bays, chargeS: c.chargeS } : undefined,
      },
      share: { aircraft: c.aircraft, loads: c.loads, sortiesPerSet: c.sortiesPerSet },
    }));

  it("is what the simulator plays with fixed times, and never under its bounds", () => {
    fc.assert(
      fc.property(anyCycle, ({ demand: any, share }) => {
        const { totalS } = cycleTime(any, share);
        expect(totalS / simulateCycle(any, share, 1, fixedTimes)).toBeCloseTo(1, 9);
        expect(cycleBound(any, share).boundS).toBeLessThanOrEqual(totalS * (1 + 1e-12));
        for (let fewer = 1; fewer <= share.loads; fewer++) {
          expect(leastCycleS(any, { ...share, loads: fewer })).toBeLessThanOrEqual(totalS * (1 + 1e-12));
        }
      }),
      { numRuns: 500 },
    );
  });

  it("is shared out in the fewest minutes of all shares there are", () => {
    fc.assert(
      fc.property(anyCycle, ({ demand: any, share: { aircraft, loads: loadsMin } }) => {
        const loadsWorth = 3 * loadsMin;
        const found = bestShare(any, aircraft, loadsMin, loadsWorth);
        let bestMin = Number.POSITIVE_INFINITY;
        for (let flying = 1; flying <= aircraft; flying++) {
          for (let loads = loadsMin; loads <= loadsWorth; loads++) {
            for (let sortiesPerSet = 1; sortiesPerSet <= 12; sortiesPerSet++) {
              if (sortiesPerSet * (any.perSortieS + any.overFieldS / loads) > any.airMaxS) break;
              const { totalS } = cycleTime(any, { aircraft: flying, loads, sortiesPerSet });
              bestMin = Math.min(bestMin, Math.ceil(totalS / 60 - 1e-6));
            }
          }
        }
        expect(found.minutes).toBeLessThanOrEqual(bestMin);
        expect(found.minutes).toBe(Math.ceil(cycleTime(any, found.share).totalS / 60 - 1e-6));
        const { loads, sortiesPerSet } = found.share;
        expect(sortiesPerSet * (any.perSortieS + any.overFieldS / loads)).toBeLessThanOrEqual(any.airMaxS + 1e-6);
      }),
      { numRuns: 60 },
    );
  });
});
