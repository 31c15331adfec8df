import { describe, expect, it } from "vitest";
import { flowPerMin, gearOf, workSpeed } from "../../../shared/fieldwork/flow.ts";
import { mpsFromKph } from "../../../shared/units/units.ts";
import { helicopter, multirotor } from "./outfits.ts";

describe("flow", () => {
  it("100 L/ha at 3 km/h over 4 m takes 2 L/min (IRRI Rice Knowledge Bank, Calibration)", () => {
    expect(flowPerMin(100, mpsFromKph(3), 4)).toBeCloseTo(2, 12);
  });

  it("100 L/ha at 8 km/h over 12 m takes 16 L/min (sprayer manual, worked example)", () => {
    expect(flowPerMin(100, mpsFromKph(8), 12)).toBeCloseTo(16, 12);
  });

  it("is the rate times ac/min = mph x ft x 0.0020202 (US Army TM 5-3740-218-13P): 100 mph, 50 ft -> 10.10 ac/min", () => {
    const haPerAcre = 0.40468564;
    const haPerMin = flowPerMin(1, mpsFromKph(160.9344), 15.24);
    expect(haPerMin / haPerAcre).toBeCloseTo(10.1, 2);
  });
});

describe("work speed", () => {
  const gear = gearOf(multirotor, "liquid", 1)!;

  it("is the fastest while the flow is enough: 15 x 36 x 11 / 600 = 9.9 of 12 L/min at 10 m/s", () => {
    const speed = workSpeed(gear, 15);
    expect(speed).toMatchObject({ ok: true, speedMps: 10 });
    expect(speed.ok && speed.flowPerMin).toBeCloseTo(9.9, 12);
  });

  it("is slowed by the flow: 600 x 12 / (30 x 11) = 21.82 km/h = 6.06 m/s", () => {
    const speed = workSpeed(gear, 30);
    expect(speed.ok && speed.speedMps).toBeCloseTo(21.8181818 / 3.6, 6);
    expect(speed.ok && speed.flowPerMin).toBeCloseTo(12, 12);
  });

  it("can't be had when 3 m/s is still too fast: 61 x 10.8 x 11 / 600 = 12.08 L/min", () => {
    const speed = workSpeed(gear, 61);
    expect(speed).toMatchObject({ ok: false, limit: "rate", allowedPerMin: 12 });
    expect(!speed.ok && speed.actualPerMin).toBeCloseTo(12.078, 3);
  });
});

describe("full load", () => {
  it("is the tank, or the payload by the density of the mix: 42 kg / 1.1333 kg/L = 37.06 L", () => {
    expect(gearOf(multirotor, "liquid", 1)!.fullLoad).toBe(40);
    expect(gearOf({ ...multirotor, payloadKg: 32 }, "liquid", 1)!.fullLoad).toBe(32);
    expect(gearOf({ ...multirotor, payloadKg: 42 }, "liquid", 34 / 30)!.fullLoad).toBeCloseTo(37.06, 2);
  });

  it("is the hopper by weight, by volume, or the payload: 70 L x 0.6 = 42 kg", () => {
    expect(gearOf(multirotor, "granular", 0.8)!.fullLoad).toBe(50);
    expect(gearOf(multirotor, "granular", 0.6)!.fullLoad).toBeCloseTo(42, 12);
    expect(gearOf({ ...multirotor, payloadKg: 45 }, "granular", 0.8)!.fullLoad).toBe(45);
  });

  it("is none without the gear", () => {
    expect(gearOf(helicopter, "granular", 1)).toBeUndefined();
  });
});
