import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaM2, contains, isCounterClockwise } from "../../../shared/geo/area.ts";
import { difference, intersection, offset, offsetShape, union } from "../../../shared/geo/clip.ts";
import { evenly, move, rectangle, starField } from "./shapes.ts";

const field = rectangle(0, 0, 400, 200);
const shift = evenly(-500, 500);

describe("intersection, difference, union", () => {
  it("of two rectangles that overlap by 100 x 100", () => {
    const other = rectangle(300, 100, 400, 200);
    expect(areaM2(intersection(field, other))).toBeCloseTo(10_000, 6);
    expect(areaM2(difference(field, other))).toBeCloseTo(70_000, 6);
    expect(areaM2(union([field, other]))).toBeCloseTo(150_000, 6);
  });

  it("leave a hole where the middle is taken out, turned the other way", () => {
    const [polygon, ...rest] = difference(field, rectangle(100, 50, 50, 50));
    expect(rest).toEqual([]);
    expect(polygon!.map(isCounterClockwise)).toEqual([true, false]);
    expect(areaM2([polygon!])).toBeCloseTo(77_500, 6);
    expect(contains([polygon!], [125, 75])).toBe(false);
  });

  it("keep an island in a hole", () => {
    const ring = difference(rectangle(0, 0, 100, 100), rectangle(10, 10, 80, 80));
    const both = union([ring, rectangle(40, 40, 20, 20)]);
    expect(both).toHaveLength(2);
    expect(areaM2(both)).toBeCloseTo(3600 + 400, 6);
  });

  it("leave nothing of a field inside another", () => {
    expect(difference(field, rectangle(-1, -1, 402, 202))).toEqual([]);
  });

  it("cut without loss: what is in and what is out add up within 1e-6", () => {
    fc.assert(
      fc.property(starField, starField, shift, shift, (one, other, eastM, northM) => {
        const moved = move(other, eastM, northM);
        const inM2 = areaM2(intersection(one, moved));
        const outM2 = areaM2(difference(one, moved));
        expect(Math.abs((inM2 + outM2) / areaM2(one) - 1)).toBeLessThan(1e-6);
        expect(Math.abs(areaM2(union([one, moved])) - (outM2 + areaM2(moved)))).toBeLessThan(0.1);
      }),
    );
  });
});

describe("offset", () => {
  it("widens a convex field by perimeter x d + pi d2 (Steiner's formula)", () => {
    const steinerM2 = 80_000 + 1200 * 10 + Math.PI * 100;
    // Round corners are chords at most 1 cm inside the arc, 2 pi x 10 m long in all.
    expect(areaM2(offset(field, 10))).toBeGreaterThan(steinerM2 - 2 * Math.PI * 10 * 0.01);
    expect(areaM2(offset(field, 10))).toBeLessThan(steinerM2);
  });

  it("narrows a field and narrows a hole", () => {
    expect(areaM2(offset(field, -10))).toBeCloseTo(380 * 180, 3);
    const holed = difference(field, rectangle(100, 50, 50, 50));
    expect(areaM2(offset(holed, 10))).toBeCloseTo(areaM2(offset(field, 10)) - 900, 3);
    expect(offset(field, -101)).toEqual([]);
  });

  it("makes a disc of a point and a stadium of a line", () => {
    const disc = areaM2(offsetShape({ kind: "point", point: [5, 5] }, 100));
    expect(disc / (Math.PI * 1e4)).toBeGreaterThan(1 - 2 * (0.01 / 100));
    expect(disc / (Math.PI * 1e4)).toBeLessThan(1);
    const stadiumM2 = areaM2(
      offsetShape(
        {
          kind: "line",
          points: [
            [0, 0],
            [100, 0],
          ],
        },
        10,
      ),
    );
    expect(stadiumM2).toBeLessThan(2000 + Math.PI * 100);
    expect(stadiumM2).toBeGreaterThan(2000 + Math.PI * 100 - 2 * Math.PI * 10 * 0.01);
  });

  it("of nothing around a point or line is nothing, around an area the area", () => {
    expect(offsetShape({ kind: "point", point: [0, 0] }, 0)).toEqual([]);
    expect(areaM2(offsetShape({ kind: "area", area: field }, 0))).toBeCloseTo(80_000, 6);
  });
});
