import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaM2, centroid, contains, selfIntersects, signedRingAreaM2 } from "../../../shared/geo/area.ts";
import type { PointXY, Ring } from "../../../shared/geo/plane.ts";
import { move, rectangle, starField, withHole } from "./shapes.ts";

describe("area and centroid", () => {
  it("of an L: 3 x 3 less 2 x 2 is 5; first moments 9 x 1.5 - 4 x 2 = 5.5, so 1.1 both ways", () => {
    const outline: Ring = [
      [0, 0],
      [3, 0],
      [3, 1],
      [1, 1],
      [1, 3],
      [0, 3],
    ];
    expect(areaM2([[outline]])).toBe(5);
    expect(signedRingAreaM2(outline.toReversed())).toBe(-5);
    const [xM, yM] = centroid([[outline]]);
    expect(xM).toBeCloseTo(1.1, 12);
    expect(yM).toBeCloseTo(1.1, 12);
  });

  it("take a hole off, whichever way its ring runs", () => {
    const area = withHole(rectangle(0, 0, 4, 4), rectangle(2, 1, 1, 2));
    expect(areaM2(area)).toBe(14);
    expect(areaM2([area[0]!.map((ring) => ring.toReversed())])).toBe(14);
    // (16 x 2 - 2 x 2.5) / 14
    expect(centroid(area)[0]).toBeCloseTo(27 / 14, 12);
    expect(centroid(area)[1]).toBeCloseTo(2, 12);
  });

  it("keep their digits 100 km from the origin", () => {
    const far = move(rectangle(0, 0, 100, 50), 100_000, -70_000);
    expect(areaM2(far)).toBeCloseTo(5000, 6);
    expect(centroid(far)[0]).toBeCloseTo(100_050, 6);
  });
});

describe("contains", () => {
  it("knows inside, outside and obstacle", () => {
    const area = withHole(rectangle(0, 0, 10, 10), rectangle(4, 4, 2, 2));
    expect(contains(area, [1, 1])).toBe(true);
    expect(contains(area, [5, 5])).toBe(false);
    expect(contains(area, [11, 5])).toBe(false);
    expect(contains(area, [5, 4 - 1e-9])).toBe(true);
  });

  it("holds the middle of a star field", () => {
    fc.assert(
      fc.property(starField, (area) => {
        expect(contains(area, [0.1, 0.1])).toBe(true);
      }),
    );
  });
});

describe("selfIntersects", () => {
  const cases: [string, PointXY[], boolean][] = [
    [
      "a triangle",
      [
        [0, 0],
        [1, 0],
        [0, 1],
      ],
      false,
    ],
    [
      "a bow tie",
      [
        [0, 0],
        [1, 1],
        [1, 0],
        [0, 1],
      ],
      true,
    ],
    [
      "a corner on another side",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
      true,
    ],
    [
      "a spike that folds back",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [4, 8],
        [4, 4],
        [0, 4],
      ],
      true,
    ],
    [
      "a straight corner",
      [
        [0, 0],
        [2, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ],
      false,
    ],
    [
      "a repeated corner",
      [
        [0, 0],
        [4, 0],
        [4, 0],
        [4, 4],
        [0, 4],
        [0, 0],
      ],
      false,
    ],
    [
      "two corners only",
      [
        [0, 0],
        [4, 0],
        [0, 0],
      ],
      true,
    ],
    [
      "a figure of eight that meets in a corner",
      [
        [0, 0],
        [2, 2],
        [4, 0],
        [4, 4],
        [2, 2],
        [0, 4],
      ],
      true,
    ],
  ];
  for (const [name, ring, expected] of cases) {
    it(`${name}: ${expected}`, () => expect(selfIntersects(ring)).toBe(expected));
  }

  it("finds none in star fields", () => {
    fc.assert(
      fc.property(starField, ([polygon]) => {
        expect(selfIntersects(polygon![0]!)).toBe(false);
      }),
    );
  });
});
