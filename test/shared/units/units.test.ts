import { describe, expect, it } from "vitest";
import {
  acresFromHa,
  degFromRad,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  gallonsPerAcreFromLPerHa,
  haFromM2,
  kphFromMps,
  lbFromKg,
  m2FromHa,
  milesFromKm,
  mphFromKph,
  mpsFromKph,
  radFromDeg,
} from "../../../shared/units/units.ts";

describe("conversions", () => {
  it("meet NIST Special Publication 811 (2008), appendix B.8 (MEMORY)", () => {
    expect(acresFromHa(0.4046856)).toBeCloseTo(1, 6);
    expect(ftFromM(0.3048)).toBeCloseTo(1, 12);
    expect(milesFromKm(1.609344)).toBeCloseTo(1, 12);
    expect(gallonsFromL(3.785412)).toBeCloseTo(1, 6);
    expect(lbFromKg(0.4535924)).toBeCloseTo(1, 6);
    expect(mpsFromKph(1)).toBeCloseTo(0.2777778, 7);
    expect(mphFromKph(1)).toBeCloseTo(1 / 1.609344, 9);
  });

  it("turn 9.354 L/ha into a gallon per acre: SP 811 gives 9.353958 (MEMORY)", () => {
    expect(gallonsPerAcreFromLPerHa(9.353958)).toBeCloseTo(1, 6);
  });

  it("meet at -40 degrees and at the boiling point", () => {
    expect(fahrenheitFromC(-40)).toBe(-40);
    expect(fahrenheitFromC(100)).toBe(212);
  });

  it("undo each other", () => {
    expect(kphFromMps(mpsFromKph(21))).toBeCloseTo(21, 12);
    expect(haFromM2(m2FromHa(12.5))).toBe(12.5);
    expect(degFromRad(radFromDeg(77))).toBeCloseTo(77, 12);
    expect(radFromDeg(180)).toBeCloseTo(Math.PI, 15);
  });
});
