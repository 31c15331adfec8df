import { describe, expect, it } from "vitest";
import { answer, calc } from "./runCalc.ts";

const words = (line: string) => line.split(" ");

interface CycleAnswer {
  readonly sortiesPerHour: { readonly bound: number; readonly atRandom: number; readonly played: number };
  readonly oneMorePct: Record<string, { readonly bound: number; readonly atRandom: number; readonly played: number }>;
  readonly bottleneck: string;
  readonly aircraftEnough: number;
  readonly stations: readonly { readonly name: string; readonly atRandom: { readonly waitingAircraft: number } }[];
}

describe("calc flow", { timeout: 120_000 }, () => {
  // Sprayer manual, worked example: 100 L/ha, 8 km/h, 12 m -> 16 L/min.
  it.each([
    ["--rate 100 --speed 8", "flow"],
    ["--rate 100 --flow 16", "speed"],
    ["--speed 8 --flow 16", "rate"],
  ])("%s gives the %s", (given, found) => {
    const told = answer<Record<string, number>>("flow", "--swath", "12", ...words(given));
    expect(told).toMatchObject({ found, unit: "L" });
    expect(told.ratePerHa).toBeCloseTo(100, 9);
    expect(told.speedKph).toBeCloseTo(8, 9);
    expect(told.flowPerMin).toBeCloseTo(16, 9);
    // 8 x 12 / 10
    expect(told.workRateHaPerHour).toBeCloseTo(9.6, 9);
  });

  // IRRI Rice Knowledge Bank, Calibration: 2 L/min at 3 km/h over 4 m is 100 L/ha.
  it("names what it worked out, law and source", () => {
    const { status, stdout } = calc("flow", "--flow", "2", "--speed", "3", "--swath", "4");
    expect(status).toBe(0);
    expect(stdout).toMatch(/rate +100 L\/ha +worked out from the others/);
    expect(stdout).toMatch(/speed +3 km\/h +0.8333 m\/s/);
    expect(stdout).toContain("IRRI Rice Knowledge Bank, Calibration");
    expect(stdout).toContain("ASABE EP496");
  });

  // Effective field capacity, ASABE EP496 (MEMORY): 5 km/h x 2.5 m x 0.85 / 10 = 1.06.
  it("work rate by field efficiency, granules in kilograms", () => {
    const given = words("flow --rate 150 --speed 5 --swath 2.5 --efficiency 0.85 --granules");
    const told = answer<{ workRateHaPerHour: number; unit: string }>(...given);
    expect(Math.abs(told.workRateHaPerHour - 1.06)).toBeLessThan(0.005);
    expect(told.unit).toBe("kg");
    expect(calc(...given).stdout).toMatch(/flow +3.125 kg\/min/);
  });
});

describe("calc loads", { timeout: 120_000 }, () => {
  // 20 x 15 = 300 L, 7.5 tanks: 8 loads of 37.5 L, or 7 of 40 L and one of 20 L. 40 L cover 2.67 ha (common practice, no source).
  it("evened out and filled up", () => {
    const told = answer<{ fullLoad: { areaHa: number } }>(...words("loads --area 20 --rate 15 --tank 40 --dose 0.2"));
    expect(told).toMatchObject({
      loads: 8,
      amount: 300,
      evenedOut: { size: 37.5, areaHa: 2.5, product: 0.5 },
      filledUp: { fullLoads: 7, lastLoad: { size: 20 } },
      productInAll: 4,
    });
    expect(told.fullLoad.areaHa).toBeCloseTo(2.67, 2);
    const { stdout } = calc(...words("loads --area 20 --rate 15 --tank 40"));
    expect(stdout).toContain("8 loads for 300 L: 20 ha at 15 L/ha");
    expect(stdout).toMatch(/evened out +8 x +37.5 L +2.5 ha/);
    expect(stdout).toMatch(/and the last +1 x +20 L +1.333 ha/);
    expect(stdout).not.toContain("product");
  });

  // Extension mixing example: 800 L, 200 mL/ha, 100 L/ha -> 1.6 L.
  it("product in a full load", () => {
    const told = answer(...words("loads --area 100 --rate 100 --tank 800 --dose 200"));
    expect(told).toMatchObject({ loads: 13, fullLoad: { size: 800, areaHa: 8, product: 1600 } });
  });

  // 32 kg / 1.1 kg/L = 29.09 L of 40.
  it("the payload may be less than the tank, a hopper's in kilograms", () => {
    const mix = words("loads --area 20 --rate 15 --tank 40 --payload 32 --density 1.1");
    const told = answer<{ fullLoad: { size: number } }>(...mix);
    expect(told).toMatchObject({ loads: 11, fullLoadLimitedBy: "payload", densityKgPerL: 1.1 });
    expect(told.fullLoad.size).toBeCloseTo(32 / 1.1, 9);
    expect(calc(...mix).stdout).toContain("as the payload allows: 32 kg at 1.1 kg/L");
    expect(answer(...words("loads --area 10 --rate 100 --tank 50 --payload 45 --granules"))).toMatchObject({
      unit: "kg",
      loads: 23,
      fullLoad: { size: 45, areaHa: 0.45 },
    });
  });

  it("one load needs no filling up", () => {
    const { stdout } = calc(...words("loads --area 1 --rate 15 --tank 40"));
    expect(stdout).toContain("1 load for 15 L");
    expect(stdout).not.toContain("filled up");
  });
});

describe("calc cycle", { timeout: 120_000 }, () => {
  // Machine-repair model, COMPUTED: 6 aircraft, 2 pads, fly 8 min, service 3 min -> 0.4945 a minute, 0.561 waiting.
  it("meets the machine-repair model, and bound and play what can be reckoned by hand", () => {
    const told = answer<CycleAnswer>(...words("cycle --aircraft 6 --fly 8 --load 3 --points 2"));
    expect(told.sortiesPerHour.atRandom / 60).toBeCloseTo(0.4945, 4);
    expect(told.stations[0]!.atRandom.waitingAircraft).toBeCloseTo(0.561, 3);
    // 6 aircraft every 11 min; two points would do 40 an hour, which takes 7.3 aircraft.
    expect(told.sortiesPerHour.bound).toBeCloseTo((6 * 60) / 11, 9);
    expect(told.bottleneck).toBe("aircraft");
    expect(told.aircraftEnough).toBeCloseTo(22 / 3, 9);
    expect(told.oneMorePct.aircraft!.bound).toBeCloseTo(100 / 6, 9);
    expect(told.oneMorePct.loading!.bound).toBe(0);
    // Loaded two by two, they land at 11, 14 and 17 min, and so again every 11 min: the 1000th, of round 167, second pair.
    expect((60 * 1000) / told.sortiesPerHour.played).toBeCloseTo(166 * 11 + 14, 6);
  });

  // Lazowska et al., chapter 6, inputs READ, outputs COMPUTED: of two stations there is no published value, so D = 2.1 and
  // 1.35, Z = 15 by hand: N = 1: X = 1/18.45. N = 2: R = 2.1 (1 + 2.1/18.45) + 1.35 (1 + 1.35/18.45) = 3.7878, X = 2/18.7878.
  it("changing batteries is a station before loading", () => {
    const told = answer<CycleAnswer>(...words("cycle --aircraft 2 --fly 15 --load 1.35 --change 2.1"));
    expect(told.sortiesPerHour.atRandom / 60).toBeCloseTo(2 / 18.7878, 5);
    expect(told.stations.map(({ name }) => name)).toEqual(["changing", "loading"]);
    expect(Object.keys(told.oneMorePct)).toEqual(["aircraft", "changing", "loading"]);
    expect(answer(...words("cycle --aircraft 20 --fly 15 --load 1.35 --change 2.1"))).toMatchObject({
      bottleneck: "changing",
    });
    // Two people make loading the slowest.
    expect(answer(...words("cycle --aircraft 20 --fly 15 --load 1.35 --change 2.1 --changers 2"))).toMatchObject({
      bottleneck: "loading",
    });
  });

  it("says the bottleneck, the laws with their sources, and what is left out", () => {
    const { status, stdout } = calc(...words("cycle --aircraft 10 --fly 8 --load 3 --points 2"));
    expect(status).toBe(0);
    expect(stdout).toContain("10 aircraft; each sortie: loading 3 min (2 loading points), flying 8 min");
    expect(stdout).toMatch(/bound: nobody does more +40.0 +\+0.0 % +\+36.4 %/);
    expect(stdout).toContain("Bottleneck: loading. 8 aircraft keep loading busy");
    for (const source of ["Lazowska", "Buzen 1973", "Baccelli", "Left out: batteries"])
      expect(stdout).toContain(source);
    expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(100);
  });
});

describe("what work calculations cannot use", { timeout: 120_000 }, () => {
  it.each([
    ["flow --swath 12 --rate 100", "--rate, --speed, --flow: --rate given; expected two of them"],
    ["flow --swath 12", "none given; expected two"],
    ["flow --swath 12 --rate 100 --speed 8 --flow 16", "--rate, --speed, --flow given; expected two"],
    ["flow --swath 0 --rate 100 --speed 8", "--swath: 0; expected a number from 0.1 to 200"],
    ["flow --swath 12 --rate 100 --speed fast", "--speed: fast; expected"],
    ["flow --swath 12 --rate 100 --speed 8 --efficiency 85", "--efficiency: 85; expected a number from 0.01 to 1"],
    ["flow --rate 100 --speed 8", "required option '--swath"],
    ["loads --area 0 --rate 15 --tank 40", "--area: 0; expected"],
    ["loads --area 20 --rate 15", "required option '--tank"],
    ["loads --area 20 --rate 15 --tank 40 --density 1.1", "--density: 1.1; expected --payload, too"],
    ["loads --area 20 --rate 15 --tank 40 --payload 40 --density 1.1 --granules", "expected none with --granules"],
    ["cycle --aircraft 2.5 --fly 8 --load 3", "--aircraft: 2.5; expected a whole number from 1 to 100"],
    ["cycle --aircraft 0 --fly 8 --load 3", "--aircraft: 0; expected a number from 1 to 100"],
    ["cycle --aircraft 2 --fly 8 --load 0", "--load: 0; expected"],
    ["cycle --aircraft 2 --fly 8 --load 3 --changers 2", "--changers: 2; expected --change, too"],
    ["cycle --aircraft 2 --load 3", "required option '--fly"],
  ])("%s is refused: %s", (given, expected) => {
    const { status, stderr } = calc(...words(given));
    expect(stderr).toContain(expected);
    expect(status).toBe(2);
  });

  it("help with an example each", () => {
    const { stdout } = calc("--help");
    for (const verb of ["flow", "loads", "cycle"]) {
      expect(stdout).toContain(`  ${verb} `);
      expect(calc(verb, "--help").stdout).toContain(`Example: calc ${verb}`);
    }
  });
});
