import { describe, expect, it } from "vitest";
import { meanOf, standardDeviation } from "../../../shared/statistics/moments.ts";
import { isClear, pairedDifference, spreadWithin } from "../../../shared/statistics/pairs.ts";
import { quantile } from "../../../shared/statistics/quantile.ts";
import { criticalT, shareWithin } from "../../../shared/statistics/studentT.ts";

describe("Student's t", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2, upper critical values: 0.975 and 0.995.
  it.each([
    [1, 12.706, 63.657],
    [2, 4.303, 9.925],
    [3, 3.182, 5.841],
    [4, 2.776, 4.604],
    [5, 2.571, 4.032],
    [6, 2.447, 3.707],
    [7, 2.365, 3.499],
    [10, 2.228, 3.169],
    [25, 2.06, 2.787],
    [30, 2.042, 2.75],
    [60, 2.0, 2.66],
    [100, 1.984, 2.626],
  ])("with %d degrees has the printed critical values", (degrees, at95, at99) => {
    expect(Math.abs(criticalT(0.95, degrees) - at95)).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(criticalT(0.99, degrees) - at99)).toBeLessThanOrEqual(5e-4);
  });

  it("comes to the normal distribution with many degrees, and back from a share to itself", () => {
    expect(criticalT(0.95, 100_000)).toBeCloseTo(1.96, 3);
    for (const degrees of [1, 2, 9, 24]) expect(shareWithin(criticalT(0.8, degrees), degrees)).toBeCloseTo(0.8, 12);
  });
});

describe("samples", () => {
  it("have a mean and a standard deviation", () => {
    // 2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares 9+1+1+1+0+0+4+16 = 32, over 7.
    expect(meanOf([2, 4, 4, 4, 5, 5, 7, 9])).toBe(5);
    expect(standardDeviation([2, 4, 4, 4, 5, 5, 7, 9])).toBeCloseTo(Math.sqrt(32 / 7), 12);
    expect(standardDeviation([3])).toBeNull();
  });

  it("have the quantiles that R prints", () => {
    // "Quantile calculations in R", r-help 13 January 2012: summary(c(1,12,14,3,96,111)) is 1, 5.25, 13, 39.5, 75.5, 111 (type 7).
    const values = [1, 12, 14, 3, 96, 111];
    expect([0, 0.25, 0.5, 0.75, 1].map((frac) => quantile(values, frac))).toEqual([1, 5.25, 13, 75.5, 111]);
    expect(meanOf(values)).toBe(39.5);
    expect(quantile([7], 0.9)).toBe(7);
  });
});

describe("differences in pairs", () => {
  it("have the interval that R prints", () => {
    // R's t.test(c(-30, 30, -40, -40, 80, 60, -50, -20)) as printed in course notes MTH 1320, University of Missouri-St. Louis, 10.5.161.
    const { mean, interval95, pairs } = pairedDifference([-30, 30, -40, -40, 80, 60, -50, -20]);
    expect(pairs).toBe(8);
    expect(mean).toBe(-1.25);
    expect(interval95![0]).toBeCloseTo(-43.51131, 5);
    expect(interval95![1]).toBeCloseTo(41.01131, 5);
  });

  it("are clear when the interval leaves out zero and they are larger than the spread", () => {
    const clear = pairedDifference([10, 11, 12]);
    expect(isClear(clear, 3)).toBe(true);
    expect(isClear(clear, null)).toBe(true);
    expect(isClear(clear, 11.5)).toBe(false);
    expect(isClear(pairedDifference([-12, -11, -10]), 3)).toBe(true);
    expect(isClear(pairedDifference([30, -1, 2]), 0)).toBe(false);
    expect(isClear(pairedDifference([0, 0, 0]), 0)).toBe(false);
    expect(isClear(pairedDifference([50]), null)).toBe(false);
  });

  it("are held against the spread within groups, whatever lies between them", () => {
    // Squares 2 and 8 with one degree each: sqrt(10 / 2); the lone value says nothing.
    expect(spreadWithin([[1, 3], [100, 104], [9]])).toBeCloseTo(Math.sqrt(5), 12);
    expect(spreadWithin([[1], [2]])).toBeNull();
  });
});
