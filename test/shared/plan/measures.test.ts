import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { measuresOf, usMeasures } from "../../../shared/plan/measures.ts";

describe("US customary measures", () => {
  it("are those of NIST Special Publication 811, appendix B", () => {
    // 1 acre = 0.404 687 3 ha (US survey foot; the international one gives 0.404 685 6), 1 gallon = 3.785 412 L, 1 lb = 0.453 592 4 kg, 1 mile = 1.609 344 km.
    expect(usMeasures.area(40.46873)).toBe("100.0 ac");
    expect(usMeasures.bulk(378.5412, "L")).toBe("100 gal");
    expect(usMeasures.bulk(4535.924, "kg")).toBe("10000 lb");
    expect(usMeasures.road(160.9344)).toBe("100 mi");
    expect(usMeasures.flying(4.4704)).toBe("10 mph");
    expect(usMeasures.length(30.48)).toBe("100 ft");
    // 1 US fluid ounce = 29.573 53 mL, 1 ounce = 28.349 52 g.
    expect(usMeasures.dose(0.2957353, "L")).toBe("10 fl oz");
    expect(usMeasures.dose(0.2834952, "kg")).toBe("10 oz");
    // 1 gallon per acre = 9.353 958 L/ha (MEMORY).
    expect(usMeasures.bulkPerArea(93.53958, "L")).toBe("10 gal/ac");
    expect(usMeasures.measured("temperature", 100)).toBe("212 °F");
    expect(usMeasures.measured("Delta T", 10)).toBe("18 °F");
  });

  it("never make a limit less strict, nor a distance to keep shorter", () => {
    const number = (words: string) => Number.parseFloat(words);
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 60, noNaN: true }), (value) => {
        const mph = value / 1.609344;
        expect(number(usMeasures.limit({ measure: "wind", bound: "most", value }))).toBeLessThanOrEqual(mph + 1e-6);
        expect(number(usMeasures.limit({ measure: "wind", bound: "least", value }))).toBeGreaterThanOrEqual(mph - 1e-6);
        const fahrenheit = 1.8 * value + 32;
        const warmest = number(usMeasures.limit({ measure: "temperature", bound: "most", value }));
        expect(warmest).toBeLessThanOrEqual(fahrenheit + 1e-6);
        expect(number(usMeasures.keep(value))).toBeGreaterThanOrEqual(value / 0.3048 - 1e-6);
      }),
      { seed: 8 },
    );
    expect(usMeasures.keep(30.48)).toBe("100 ft");
  });
});

describe("metric measures", () => {
  it("leave what is metric already", () => {
    const { metric } = measuresOf;
    expect(metric.area(0.45)).toBe("0.45 ha");
    expect(metric.dose(0.5, "L")).toBe("500 mL");
    expect(metric.limit({ measure: "wind", bound: "most", value: 18 })).toBe("18 km/h");
  });
});
