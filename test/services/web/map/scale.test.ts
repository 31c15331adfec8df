import { describe, expect, it } from "vitest";
import { metresPerPx, scaleBar } from "../../../../services/web/app/map/scale.ts";

describe("the scale of a map", () => {
  it("is that of the flat map of the world", () => {
    // OGC 17-083r4, Two Dimensional Tile Matrix Set, annex D.1 WebMercatorQuad: cell sizes (MEMORY of the numbers).
    expect(metresPerPx(0, 0)).toBeCloseTo(156_543.033928041, 6);
    expect(metresPerPx(0, 12)).toBeCloseTo(38.21851414258813, 9);
    // cos 60 degrees is a half.
    expect(metresPerPx(60, 12)).toBeCloseTo(38.21851414258813 / 2, 9);
  });

  it.each([
    // 120 px at 1 m: 100 m is the longest round length; it is 100 px wide.
    [1, "metric", 100, "100 m"],
    [10, "metric", 100, "1 km"],
    [60, "metric", 5000 / 60, "5 km"],
    // 120 m are 393.7 ft: 200 ft of 0.3048 m. 6 km are 3.73 mi: 2 mi of 1,609.344 m (NIST SP 811, appendix B; MEMORY).
    [1, "us", 200 * 0.3048, "200 ft"],
    [50, "us", (2 * 1609.344) / 50, "2 mi"],
  ] as const)("is drawn at %d m a pixel, %s", (mPerPx, system, widthPx, words) => {
    const bar = scaleBar(mPerPx, 120, system);
    expect(bar.words).toBe(words);
    expect(bar.widthPx).toBeCloseTo(widthPx, 9);
  });

  it("is never wider than allowed and never less than two fifths of it", () => {
    for (let zoom = 2; zoom <= 21; zoom += 0.25) {
      for (const system of ["metric", "us"] as const) {
        const { widthPx } = scaleBar(metresPerPx(48, zoom), 120, system);
        expect(widthPx).toBeLessThanOrEqual(120.001);
        expect(widthPx).toBeGreaterThan(120 * 0.39);
      }
    }
  });
});
