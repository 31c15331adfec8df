import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaM2, contains } from "../../../shared/geo/area.ts";
import { passesAt, stripsOf } from "../../../shared/geo/swath.ts";
import { evenly, rectangle, starField, turn, withHole } from "./shapes.ts";

const field = rectangle(0, 0, 400, 200);
const eastward = Math.PI / 2;

describe("passes", () => {
  it("over 400 x 200 m at 7 m: 200 / 7 = 28.6, so 29 lengthwise; 400 / 7 = 57.1, so 58 crosswise", () => {
    expect(passesAt(field, eastward, 7)).toMatchObject({ count: 29, lengthM: 29 * 400 });
    expect(passesAt(field, 0, 7).count).toBe(58);
    expect(passesAt(field, 0, 7).lengthM).toBeCloseTo(58 * 200, 9);
  });

  it("need no further one for a width of a whole number of swaths, turned or not", () => {
    expect(passesAt(field, eastward, 10).count).toBe(20);
    for (let angleDeg = 1; angleDeg < 180; angleDeg++) {
      const angleRad = (angleDeg * Math.PI) / 180;
      expect(passesAt(turn(field, angleRad), eastward + angleRad, 10).count).toBe(20);
    }
  });

  it("are parted by an obstacle: 50 of 200 m are 5 of the 20 passes", () => {
    const holed = withHole(field, rectangle(100, 50, 60, 50));
    const { count, segments, lengthM } = passesAt(holed, eastward, 10);
    expect(count).toBe(20);
    expect(segments).toHaveLength(25);
    expect(lengthM).toBeCloseTo(20 * 400 - 5 * 60, 9);
    expect(segments.every(({ from, to }) => contains(holed, [(from[0] + to[0]) / 2, from[1]]))).toBe(true);
  });

  it("are parted by a bay in the outline: a U of 400 x 200 with a bay of 200 x 100", () => {
    const u = [
      [
        [0, 0],
        [400, 0],
        [400, 200],
        [300, 200],
        [300, 100],
        [100, 100],
        [100, 200],
        [0, 200],
      ] as const,
    ];
    const { count, segments, lengthM } = passesAt([u], eastward, 10);
    expect([count, segments.length]).toEqual([20, 30]);
    expect(lengthM).toBeCloseTo(10 * 400 + 10 * 200, 9);
    expect(passesAt([u], 0, 10).segments).toHaveLength(40);
  });

  it("do not count the gap between two parts, and run on where parts touch", () => {
    const apart = [...rectangle(0, 0, 100, 50), ...rectangle(0, 500, 100, 50)];
    expect(passesAt(apart, eastward, 10).count).toBe(10);
    const touching = [...rectangle(0, 0, 100, 50), ...rectangle(100, 0, 100, 50)];
    expect(passesAt(touching, eastward, 10).segments).toHaveLength(5);
  });

  it("are as long as the ground asks for, within what their ends make up, at any heading", () => {
    const heading = evenly(0, Math.PI);
    fc.assert(
      fc.property(starField, heading, (area, headingRad) => {
        const swathM = 2;
        const { lengthM, segments } = passesAt(area, headingRad, swathM);
        // The midpoint rule over a polygon: off by no more than a swath for each end of each pass.
        const expectedM = areaM2(area) / swathM;
        expect(Math.abs(lengthM / expectedM - 1)).toBeLessThan(0.03);
        expect(segments.every(({ from, to }) => contains(area, middle(from, to)))).toBe(true);
      }),
    );
  });

  it("have a piece in every strip of a field in one piece, holes or not, so that strips bound what a heading costs", () => {
    fc.assert(
      fc.property(starField, evenly(0, Math.PI), evenly(3, 60), fc.boolean(), (area, headingRad, swathM, isHoled) => {
        const ground = isHoled ? withHole(area, rectangle(-8, -8, 16, 16)) : area;
        const { pieces, count, segments } = passesAt(ground, headingRad, swathM);
        expect(pieces).toBe(segments.length);
        expect(count).toBe(stripsOf(ground, headingRad, swathM).count);
        expect(pieces).toBeGreaterThanOrEqual(count);
      }),
    );
  });
});

function middle(a: readonly [number, number], b: readonly [number, number]): [number, number] {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}
