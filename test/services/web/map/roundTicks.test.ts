import { describe, expect, it } from "vitest";
import { roundTicks } from "../../../../services/web/app/map/roundTicks.ts";

describe("round degrees between two edges", () => {
  it("are the multiples of 1, 2 or 5 of a power of ten, written with as many digits as they need", () => {
    // 0.1 degrees in at most 4 steps: 0.025 each, so 0.05.
    expect(roundTicks(11.03, 11.13, 4).map(({ text }) => text)).toEqual(["11.05", "11.10"]);
    expect(roundTicks(-0.3, 0.3, 4).map(({ text }) => text)).toEqual(["-0.2", "0.0", "0.2"]);
    expect(roundTicks(170, 190, 4).map(({ text }) => text)).toEqual(["170", "175", "180", "185", "190"]);
    // 0.0004 degrees, some 40 m, in 3: 0.00014, so 0.0002.
    expect(roundTicks(51.00005, 51.00045, 3).map(({ text }) => text)).toEqual(["51.0002", "51.0004"]);
  });

  it("lie between the edges, no more than asked and one, at every scale", () => {
    for (let widthDeg = 1e-5; widthDeg < 300; widthDeg *= 1.7) {
      for (const most of [1, 2.5, 6]) {
        const ticks = roundTicks(-7.3, -7.3 + widthDeg, most);
        expect(ticks.length).toBeLessThanOrEqual(most + 1);
        for (const { text, value } of ticks) {
          expect(value).toBeGreaterThan(-7.3 - 1e-12);
          expect(value).toBeLessThan(-7.3 + widthDeg + 1e-12);
          expect(Number(text)).toBeCloseTo(value, 9);
        }
      }
    }
    expect(roundTicks(5, 5, 3)).toEqual([]);
  });
});
