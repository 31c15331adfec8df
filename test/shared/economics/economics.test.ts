import { describe, expect, it } from "vitest";
import { capitalRecoveryFactor, ownershipCentsPerYear } from "../../../shared/economics/ownership.ts";
import { discountedPaybackYears, simplePaybackYears } from "../../../shared/economics/payback.ts";

describe("capital recovery", () => {
  // Factors as tables of engineering economy print them: (A/P, 10 %, 5) 0.26380 in a worked example with 50,000, 5,000, 12,371 below; (A/P, 15 %, 5) 0.2983 likewise.
  it.each([
    [0.1, 5, 0.2638, 5e-6],
    [0.15, 5, 0.2983, 5e-5],
  ])("has the printed factor at %d over %d years", (interest, years, factor, tolerance) => {
    expect(Math.abs(capitalRecoveryFactor(interest, years) - factor)).toBeLessThanOrEqual(tolerance);
  });

  it.each([
    // Price, years, salvage, interest, cost of a year, half of the last figure that is printed (more where factors were rounded), source.
    [
      160_000,
      8,
      35_391,
      0.055,
      21_618,
      1,
      "Iowa State University A3-29 calculator sheet; its 5.5 % worked back from its result",
    ],
    [50_000, 5, 5_000, 0.1, 12_371, 0.6, "textbook example of capital recovery (A/P, 10 %, 5)"],
    [30_000, 5, 8_000, 0.15, 7_762.6, 1.2, "textbook example of capital recovery (A/P, 15 %, 5)"],
    [50_000, 10, 5_000, 0.08, 7_105, 2, "board examination in civil engineering, November 2016, problem 68"],
    [100_000, 15, 20_000, 0.1, 12_517.9, 0.1, "the same, problem 69"],
    [200_000, 30, 0, 0.08, 17_765.49, 0.005, "R package EngrEcon 1.0.0, present_to_annual"],
    [130_000, 15, 34_500, 0.08, 13_917, 1, "inputs of A3-29 (tractor); the result COMPUTED, not read there"],
  ])(
    "of %d over %d years with salvage %d at %d is %d a year",
    (price, years, salvage, interest, perYear, tolerance) => {
      const cents = ownershipCentsPerYear({ priceCents: price * 100, years, salvageCents: salvage * 100 }, interest);
      expect(Math.abs(cents / 100 - perYear)).toBeLessThanOrEqual(tolerance);
    },
  );

  it("without interest is depreciation in equal parts, and next to none comes near it", () => {
    const purchase = { priceCents: 1_000_000, years: 8, salvageCents: 200_000 };
    expect(ownershipCentsPerYear(purchase, 0)).toBe(100_000);
    expect(ownershipCentsPerYear(purchase, 1e-9)).toBeCloseTo(100_000, 2);
  });

  it("pays the price back to the cent, year by year", () => {
    // Another way to the same: what is owed grows by its interest and falls by the payment; at the end the salvage is left.
    for (const [years, interest] of [
      [3, 0.04],
      [10, 0.09],
      [25, 0.01],
    ] as const) {
      const purchase = { priceCents: 5_000_000, years, salvageCents: 700_000 };
      let owedCents = purchase.priceCents;
      for (let year = 0; year < years; year++)
        owedCents = owedCents * (1 + interest) - ownershipCentsPerYear(purchase, interest);
      expect(owedCents).toBeCloseTo(purchase.salvageCents, 3);
    }
  });
});

describe("payback", () => {
  it("is the price over the gain of a year", () => {
    expect(simplePaybackYears(9_000_00, 3_000_00)).toBe(3);
    expect(simplePaybackYears(9_000_00, 0)).toBeNull();
    expect(simplePaybackYears(9_000_00, -5)).toBeNull();
    expect(simplePaybackYears(0, -5)).toBe(0);
  });

  it("with interest is the year in which the capital recovery factor is the gain over the price", () => {
    for (const years of [1, 4, 12.5]) {
      const gain = 10_000_00 * capitalRecoveryFactor(0.07, years);
      expect(discountedPaybackYears(10_000_00, gain, 0.07)).toBeCloseTo(years, 9);
    }
    expect(discountedPaybackYears(9_000_00, 3_000_00, 0)).toBe(3);
  });

  it("never comes where the gain does not pay the interest", () => {
    expect(discountedPaybackYears(10_000_00, 700_00, 0.07)).toBeNull();
    expect(discountedPaybackYears(10_000_00, 701_00, 0.07)).toBeGreaterThan(50);
  });
});
