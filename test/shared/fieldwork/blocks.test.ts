import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cutAcross, cutBlocks } from "../../../shared/fieldwork/blocks.ts";
import { bestSwathPlan } from "../../../shared/fieldwork/swathPlan.ts";
import { areaM2 } from "../../../shared/geo/area.ts";
import { intersection } from "../../../shared/geo/clip.ts";
import type { AreaXY } from "../../../shared/geo/plane.ts";
import { passesAt, stripsOf } from "../../../shared/geo/swath.ts";
import { evenly, rectangle, starField, turn, withHole } from "../geo/shapes.ts";

const eastward = Math.PI / 2;
const field = rectangle(0, 0, 400, 200);
const areasHa = (blocks: readonly AreaXY[]) => blocks.map((block) => areaM2(block) / 10_000);

describe("cutting into blocks", () => {
  it("8 ha in 20 strips of 0.4 ha at most 3 ha: 7, 7 and 6 strips", () => {
    const blocks = cutBlocks(field, { swathM: 10, headingRad: eastward, maxAreaHa: 3 });
    const sizesHa = areasHa(blocks).sort();
    expect(sizesHa[0]).toBeCloseTo(2.4, 6);
    expect(sizesHa[1]).toBeCloseTo(2.8, 6);
    expect(sizesHa[2]).toBeCloseTo(2.8, 6);
  });

  it("cuts no pass: the blocks need as many as the whole", () => {
    const holed = withHole(turn(field, 0.3), turn(rectangle(100, 50, 60, 50), 0.3));
    const headingRad = eastward + 0.3;
    const blocks = cutBlocks(holed, { swathM: 7, headingRad, maxAreaHa: 1.9 });
    const passes = blocks.map((block) => passesAt(block, headingRad, 7).count);
    expect(blocks).toHaveLength(5);
    expect(passes.reduce((sum, count) => sum + count, 0)).toBe(29);
  });

  it("leaves alone what is small enough", () => {
    expect(cutBlocks(field, { swathM: 10, headingRad: 0, maxAreaHa: 8 })).toEqual([field]);
  });

  it("keeps a strip whole that is too large by itself: 20 strips of 0.4 ha at most 0.3 ha", () => {
    expect(cutBlocks(field, { swathM: 10, headingRad: eastward, maxAreaHa: 0.3 })).toHaveLength(20);
  });

  it("never leaves a sliver: the tip of a triangle of 4 ha goes with the next strip", () => {
    const triangle: AreaXY = [
      [
        [
          [0, 0],
          [400, 0],
          [0, 200],
        ],
      ],
    ];
    const blocks = cutBlocks(triangle, { swathM: 10, headingRad: eastward, maxAreaHa: 0.06 });
    expect(Math.min(...areasHa(blocks))).toBeGreaterThanOrEqual(0.05 - 1e-6);
  });

  it("adds up within 1e-6, does not overlap, keeps to the size, at any heading", () => {
    fc.assert(
      fc.property(starField, evenly(0, 3.14), evenly(3, 20), evenly(0.3, 12), (area, headingRad, swathM, maxAreaHa) => {
        const blocks = cutBlocks(area, { swathM, headingRad, maxAreaHa });
        const totalM2 = areaM2(area);
        const sumM2 = blocks.reduce((sum, block) => sum + areaM2(block), 0);
        expect(Math.abs(sumM2 / totalM2 - 1)).toBeLessThan(1e-6);
        for (let i = 1; i < blocks.length; i++) {
          expect(areaM2(intersection(blocks[i - 1]!, blocks[i]!))).toBeLessThan(1e-6 * totalM2);
        }
        for (const block of blocks) {
          const isOneStrip = stripsOf(block, headingRad, swathM).count === 1;
          const ha = areaM2(block) / 10_000;
          if (!isOneStrip) expect(ha).toBeLessThanOrEqual(maxAreaHa + 0.05 + 1e-6);
          if (blocks.length > 1) expect(ha).toBeGreaterThanOrEqual(0.05 - 1e-6);
        }
        expect(blocks.length).toBeGreaterThanOrEqual(Math.min(1, Math.ceil(totalM2 / 10_000 / maxAreaHa - 1e-9)));
      }),
    );
  });

  it("cuts into no more blocks than needed and evenly, in strips that are narrow against the block", () => {
    fc.assert(
      fc.property(evenly(1, 8), (maxAreaHa) => {
        const { headingRad } = bestSwathPlan(field, { swathM: 4, turnCostM: 40, headlandM: 0 });
        const sizesHa = areasHa(cutBlocks(field, { swathM: 4, headingRad, maxAreaHa }));
        // 50 strips of 0.16 ha.
        expect(sizesHa).toHaveLength(Math.ceil(50 / Math.floor(maxAreaHa / 0.16 + 1e-9)));
        expect(Math.max(...sizesHa) - Math.min(...sizesHa)).toBeLessThan(0.16 + 1e-6);
      }),
    );
  });
});

describe("cutting across the passes", () => {
  it("gives what lies on either side of the line", () => {
    const halves = cutAcross(field, Math.PI / 2, 150);
    expect(areasHa(halves)).toEqual([expect.closeTo(3, 9), expect.closeTo(5, 9)]);
    expect(cutAcross(field, Math.PI / 2, -5)).toEqual([field]);
  });

  it("adds up, whatever the field", () => {
    fc.assert(
      fc.property(starField, evenly(0, Math.PI), evenly(-200, 200), (area, headingRad, alongM) => {
        const sumM2 = cutAcross(area, headingRad, alongM).reduce((sum, half) => sum + areaM2(half), 0);
        expect(Math.abs(sumM2 / areaM2(area) - 1)).toBeLessThan(1e-6);
      }),
    );
  });
});
