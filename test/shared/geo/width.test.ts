import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contains } from "../../../shared/geo/area.ts";
import { frameOf } from "../../../shared/geo/swath.ts";
import { convexHull, leastWidth } from "../../../shared/geo/width.ts";
import { evenly, starField, turn } from "./shapes.ts";

describe("least width", () => {
  it("of the 3-4-5 triangle is its height over the longest side, 3 x 4 / 5 = 2.4, along that side", () => {
    const { widthM, headingRad } = leastWidth([
      [0, 0],
      [4, 0],
      [0, 3],
    ]);
    expect(widthM).toBeCloseTo(2.4, 12);
    // From (4, 0) to (0, 3): west by 4 and north by 3, or the other way round.
    expect(headingRad).toBeCloseTo(Math.PI - Math.atan2(4, 3), 12);
  });

  it("is that of the best of very many directions, and does not change when the field is turned", () => {
    fc.assert(
      fc.property(starField, evenly(0, 6), (area, angleRad) => {
        const corners = area[0]![0]!;
        const { widthM } = leastWidth(corners);
        const widthAtM = (headingRad: number) => {
          const acrossM = corners.map(frameOf(headingRad).across);
          return Math.max(...acrossM) - Math.min(...acrossM);
        };
        const tried = Array.from({ length: 720 }, (_, i) => widthAtM((i * Math.PI) / 720));
        expect(widthM).toBeLessThanOrEqual(Math.min(...tried) + 1e-9);
        // A direction is at most 0.125 degrees off, over a field of at most 800 m.
        expect(widthM).toBeGreaterThan(Math.min(...tried) - 800 * Math.sin(Math.PI / 1440) - 1e-9);
        expect(leastWidth(turn(area, angleRad)[0]![0]!).widthM).toBeCloseTo(widthM, 6);
        expect(widthAtM(leastWidth(corners).headingRad)).toBeCloseTo(widthM, 6);
      }),
    );
  });

  it("of points in a row is nothing", () => {
    expect(
      leastWidth([
        [0, 0],
        [1, 1],
        [2, 2],
      ]).widthM,
    ).toBe(0);
  });
});

describe("convex hull", () => {
  it("leaves out what lies inside and on a side", () => {
    expect(
      convexHull([
        [0, 0],
        [2, 0],
        [1, 0],
        [1, 1],
        [2, 2],
        [0, 2],
      ]),
    ).toEqual([
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ]);
  });

  it("holds every corner", () => {
    fc.assert(
      fc.property(starField, (area) => {
        const hull = convexHull(area[0]![0]!);
        const drawnIn = area[0]![0]!.map(([xM, yM]) => [xM * 0.999, yM * 0.999] as const);
        expect(drawnIn.every((point) => contains([[hull]], point))).toBe(true);
      }),
    );
  });
});
