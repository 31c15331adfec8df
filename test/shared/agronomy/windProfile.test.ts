import { describe, expect, test } from "vitest";
import { windAtHeightKph } from "../../../shared/agronomy/windProfile.ts";

describe("wind at another height", () => {
  // FAO Irrigation and Drainage Paper 56 (1998), equation 47 with its own constant, 4.87 / ln(67.8 z - 5.42) (COMPUTED).
  test.each([
    [1, 1.178],
    [2, 1],
    [3, 0.921],
    [5, 0.838],
    [10, 0.748],
  ])("from %d m to 2 m the factor is %d", (fromM, factor) => {
    expect(Math.abs(windAtHeightKph(1, fromM, 2) - factor)).toBeLessThan(0.001);
  });

  test("there and back is the same wind, higher up it is stronger, at the same height it stays", () => {
    for (const [low, high] of [
      [0.5, 2],
      [2, 3],
      [3, 10],
      [10, 50],
    ] as const) {
      expect(windAtHeightKph(windAtHeightKph(17, low, high), high, low)).toBeCloseTo(17, 9);
      expect(windAtHeightKph(17, low, high)).toBeGreaterThan(17);
    }
    expect(windAtHeightKph(17, 10, 10)).toBe(17);
  });

  // Our choice: the law ends at half a metre.
  test("under half a metre it is as at half a metre", () => {
    expect(windAtHeightKph(10, 10, 0.05)).toBe(windAtHeightKph(10, 10, 0.5));
    expect(windAtHeightKph(10, 0.1, 10)).toBe(windAtHeightKph(10, 0.5, 10));
  });
});
