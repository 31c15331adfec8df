import fc from "fast-check";
import { expect, test } from "vitest";
import { clip, gaps, type Interval, intervalAt, totalMin, union } from "../../../shared/agronomy/intervals.ts";

const interval = fc
  .record({ startMin: fc.integer({ min: -20, max: 60 }), lengthMin: fc.integer({ min: 0, max: 15 }) })
  .map(({ startMin, lengthMin }): Interval => ({ startMin, endMin: startMin + lengthMin }));
const intervals = fc.array(interval, { maxLength: 8 });
const holds = (list: readonly Interval[], min: number) =>
  list.some(({ startMin, endMin }) => startMin <= min && min < endMin);

test("union, gaps and clip agree with counting every minute", () => {
  fc.assert(
    fc.property(intervals, interval, (list, { startMin, endMin }) => {
      const merged = union(list);
      const free = gaps(merged, startMin, endMin);
      const inside = clip(merged, startMin, endMin);
      for (let min = -25; min < 80; min++) {
        const within = startMin <= min && min < endMin;
        expect(holds(merged, min)).toBe(holds(list, min));
        expect(holds(free, min)).toBe(within && !holds(list, min));
        expect(holds(inside, min)).toBe(within && holds(list, min));
        expect(intervalAt(merged, min) !== undefined).toBe(holds(list, min));
      }
      for (const result of [merged, free, inside]) {
        expect(result.every((one) => one.startMin < one.endMin)).toBe(true);
        expect(result.slice(1).every((next, index) => result[index]!.endMin < next.startMin)).toBe(true);
      }
      expect(totalMin(free) + totalMin(inside)).toBe(endMin - startMin);
    }),
    { seed: 1, numRuns: 500 },
  );
});
