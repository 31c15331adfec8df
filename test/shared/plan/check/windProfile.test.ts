import { expect, test } from "vitest";
import { windAtHeightKph } from "../../../../shared/plan/check/windProfile.ts";

test("3.2 m/s at 10 m is 2.4 m/s at 2 m: FAO Irrigation and Drainage Paper 56, example 14", () => {
  // The factor 4.87 / ln(67.8 x 10 - 5.42) = 0.748 there.
  expect(windAtHeightKph(3.2 * 3.6, 10, 2) / 3.6).toBeCloseTo(3.2 * 0.748, 2);
  expect(windAtHeightKph(2.39 * 3.6, 2, 10) / 3.6).toBeCloseTo(3.2, 1);
});

test("at the height at which it is given it stays the same, to the last digit", () => {
  for (const heightM of [0.1, 0.5, 1, 2, 3.3, 10, 200]) expect(windAtHeightKph(13.7, heightM, heightM)).toBe(13.7);
});

test("it does not grow less below half a metre", () => {
  // ln(67.8 x 0.5 - 5.42) = ln 28.48 = 3.3492; ln(67.8 x 2 - 5.42) = ln 130.18 = 4.8689.
  expect(windAtHeightKph(10, 2, 0.5)).toBeCloseTo((10 * 3.3492) / 4.8689, 3);
  expect(windAtHeightKph(10, 2, 0.01)).toBe(windAtHeightKph(10, 2, 0.5));
  expect(windAtHeightKph(10, 0.01, 2)).toBe(windAtHeightKph(10, 0.5, 2));
});
