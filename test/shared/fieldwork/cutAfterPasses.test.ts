import { describe, expect, it } from "vitest";
import { cutAfterPasses } from "../../../shared/fieldwork/blocks.ts";
import { areaM2 } from "../../../shared/geo/area.ts";
import type { AreaXY } from "../../../shared/geo/plane.ts";

/** 300 m from west to east, 100 m from south to north: thirty strips of 10 m to the north, 0.1 ha each. */
const field: AreaXY = [
  [
    [
      [0, 0],
      [300, 0],
      [300, 100],
      [0, 100],
    ],
  ],
];
const north = { swathM: 10, headingRad: 0 };
const eastOf = (area: AreaXY) => {
  const eastM = area.flatMap((polygon) => polygon[0]!.map(([xM]) => xM));
  return [Math.min(...eastM), Math.max(...eastM)];
};

describe("the ground under the passes flown first", () => {
  it.each([
    // 1 ha is ten strips; 1.04 ha is nearest to ten, 1.06 ha to eleven.
    [1, true, 10, [0, 100]],
    [1.04, true, 10, [0, 100]],
    [1.06, true, 11, [0, 110]],
    [1, false, 10, [200, 300]],
    [2.97, false, 30, [0, 300]],
  ] as const)(
    "is the whole strips that come nearest to %d ha, from the left: %s",
    (doneHa, fromLeft, strips, [west, east]) => {
      const done = cutAfterPasses(field, { ...north, doneHa, fromLeft });
      expect(areaM2(done)).toBeCloseTo(strips * 1000, 1);
      expect(eastOf(done)[0]).toBeCloseTo(west, 3);
      expect(eastOf(done)[1]).toBeCloseTo(east, 3);
    },
  );

  it("is none where less than half a strip is done", () => {
    expect(cutAfterPasses(field, { ...north, doneHa: 0.04, fromLeft: true })).toEqual([]);
  });
});
