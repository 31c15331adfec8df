import { describe, expect, it } from "vitest";
import { rankCorrelation } from "./rankCorrelation.ts";

describe("Spearman's rank correlation", () => {
  it("is as in a published example", () => {
    // Intelligence and hours of television of ten people, the example of the Wikipedia article "Spearman's rank correlation coefficient": sum of d² 194, -29/165 (MEMORY).
    const iq = [106, 100, 86, 101, 99, 103, 97, 113, 112, 110];
    const hours = [7, 27, 2, 50, 28, 29, 20, 12, 6, 17];
    expect(rankCorrelation(iq, hours)).toBeCloseTo(-29 / 165, 12);
  });

  it("gives equal values the mean of their ranks", () => {
    // Ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4: 4.5 / sqrt(4.5 x 5), by hand.
    expect(rankCorrelation([1, 2, 2, 3], [10, 20, 30, 40])).toBeCloseTo(4.5 / Math.sqrt(22.5), 12);
    expect(rankCorrelation([1, 2, 3], [9, 8, 7])).toBe(-1);
  });
});
