import fc from "fast-check";
import { beforeAll, describe, expect, it, vi } from "vitest";
import { numberIn } from "../../../../services/web/app/crew/numberIn.ts";
import type { SiteLimit } from "../../../../shared/plan/siteLimits.ts";
import { fahrenheitFromC, mphFromKph } from "../../../../shared/units/units.ts";

// The choice of units is read when its file is loaded.
let amountWords: typeof import("../../../../services/web/app/crew/amounts.ts").amountWords;
type LimitWords = typeof import("../../../../services/web/app/crew/siteLimitWords.ts");
let limitWords: LimitWords["limitWords"];
let spansOf: LimitWords["spansOf"];
let spanWords: LimitWords["spanWords"];
let whoSetWords: LimitWords["whoSetWords"];
let quantitiesIn: typeof import("../../../../services/web/app/crew/quantities.ts").quantitiesIn;
let typed: typeof import("../../../../services/web/app/crew/quantities.ts").typed;
let asTyped: typeof import("../../../../services/web/app/crew/quantities.ts").asTyped;
let judgeAir: typeof import("../../../../services/web/app/crew/measuredAir.ts").judgeAir;
beforeAll(async () => {
  vi.stubGlobal("localStorage", { getItem: () => null });
  ({ amountWords } = await import("../../../../services/web/app/crew/amounts.ts"));
  ({ limitWords, spansOf, spanWords, whoSetWords } = await import(
    "../../../../services/web/app/crew/siteLimitWords.ts"
  ));
  ({ quantitiesIn, typed, asTyped } = await import("../../../../services/web/app/crew/quantities.ts"));
  ({ judgeAir } = await import("../../../../services/web/app/crew/measuredAir.ts"));
});

const limit = (over: Partial<SiteLimit>): SiteLimit => ({
  measure: "wind",
  bound: "most",
  value: 15,
  unit: "km/h",
  setBy: { kind: "operation" },
  ...over,
});

describe("what goes into a load", () => {
  it("is told as jugs and scales are marked", () => {
    expect(amountWords(41.5, "L", "metric")).toBe("41.5 L");
    expect(amountWords(0.3126, "L", "metric")).toBe("313 mL");
    expect(amountWords(0.05, "kg", "metric")).toBe("50 g");
    // NIST Handbook 44, appendix C: a US gallon is 3.785412 L and 128 fluid ounces of 29.57353 mL, a pound 453.59237 g and 16 ounces of 28.34952 g.
    expect(amountWords(3.785412, "L", "us")).toBe("1 gal");
    expect(amountWords(0.2957353, "L", "us")).toBe("10 fl oz");
    expect(amountWords(0.45359237, "kg", "us")).toBe("1 lb");
    expect(amountWords(0.2834952, "kg", "us")).toBe("10 oz");
  });
});

describe("limits to measure against", () => {
  it("are rounded to the safe side in every unit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 60, noNaN: true }),
        fc.constantFrom<SiteLimit["bound"]>("least", "most"),
        fc.constantFrom<[SiteLimit["measure"], SiteLimit["unit"]]>(
          ["wind", "km/h"],
          ["temperature", "°C"],
          ["humidity", "%"],
        ),
        fc.constantFrom("metric" as const, "us" as const),
        (value, bound, [measure, unit], system) => {
          const told = Number.parseFloat(limitWords(limit({ value, bound, measure, unit }), system));
          const isUs = system === "us" && unit !== "%";
          const exact = isUs ? (unit === "km/h" ? mphFromKph(value) : fahrenheitFromC(value)) : value;
          if (bound === "most") expect(told).toBeLessThanOrEqual(exact + 1e-6);
          else expect(told).toBeGreaterThanOrEqual(exact - 1e-6);
          expect(Math.abs(told - exact)).toBeLessThan(0.1 + 1e-6);
        },
      ),
      { seed: 8 },
    );
    expect(limitWords(limit({ value: 24 }), "metric")).toBe("24 km/h");
    // 24 km/h are 14.913 mph.
    expect(limitWords(limit({ value: 24 }), "us")).toBe("14.9 mph");
    expect(limitWords(limit({ measure: "Delta T", unit: "°C", value: 10 }), "us")).toBe("18 °F");
  });

  it("are broken by what is measured beyond them, in words that name the measured, the limit and who set it", () => {
    const site = {
      limits: [limit({ setBy: { kind: "label", productName: "Liquid" } }), limit({ bound: "least", value: 3 })],
      windHeightM: null,
      dropletClasses: [],
      rainfastHours: 0,
      inversion: "ignore" as const,
    };
    const beyond = (windKph: number) => judgeAir({ windKph, where: "" }, site, 200, "metric");
    expect(beyond(15)).toEqual({ beyond: [], judged: 2 });
    expect(beyond(15.1).beyond).toEqual(["Wind 15.1 km/h; at most 15 km/h (the label of Liquid)."]);
    expect(beyond(2.9).beyond).toEqual(["Wind 2.9 km/h; at least 3 km/h (our own rule)."]);
  });
});

describe("limits of a measure", () => {
  const label = { kind: "label", productName: "Liquid" } as const;
  const limits = [
    limit({ bound: "least", value: 3, setBy: label }),
    limit({ value: 15, setBy: label }),
    limit({ measure: "gust", value: 24, setBy: label }),
  ];

  it("are one line, the least rounded up and the most rounded down", () => {
    const lines = (system: "metric" | "us") => spansOf(limits).map((span) => spanWords(span.limits, system));
    expect(lines("metric")).toEqual(["3 to 15 km/h", "at most 24 km/h"]);
    // 3, 15 and 24 km/h are 1.864, 9.321 and 14.913 mph.
    expect(lines("us")).toEqual(["1.9 to 9.3 mph", "at most 14.9 mph"]);
  });

  it("name who set them once, and each of several", () => {
    expect(whoSetWords(spansOf(limits))).toBe("Set by the label of Liquid.");
    const crane = { kind: "aircraft", typeName: "Crane 50" } as const;
    const mixed = [...limits.slice(0, 2), limit({ measure: "gust", value: 24, setBy: crane })];
    expect(whoSetWords(spansOf(mixed))).toBe("Wind: set by the label of Liquid. Gusts: set by Crane 50.");
  });
});

describe("what is typed", () => {
  it("is a number with a point or a comma, and nothing else", () => {
    expect([" 12,5 ", "12.5", "-3", ".5", "7."].map(numberIn)).toEqual([12.5, 12.5, -3, 0.5, 7]);
    for (const text of ["", "twelve", "1e3", "1.2.3", "1,234.5", "Infinity", "0x10", "--1"]) {
      expect(numberIn(text)).toBeNull();
    }
  });

  it("comes back from either unit as it was shown", () => {
    for (const system of ["metric", "us"] as const) {
      for (const quantity of Object.values(quantitiesIn(system))) {
        const read = typed(asTyped(12.5, quantity), "Name", quantity);
        expect(read.status).toBe("given");
        if (read.status === "given") expect(quantity.shown(read.value)).toBeCloseTo(quantity.shown(12.5), 1);
      }
    }
    expect(typed("68", "Temperature", quantitiesIn("us").temperature)).toEqual({ status: "given", value: 20 });
  });

  it("is refused beyond what the API takes, in the unit that was typed", () => {
    const { height, wind } = quantitiesIn("us");
    expect(typed("130", "Wind", wind)).toEqual({ status: "faulty", sentence: "Wind: a number from 0 mph to 124 mph." });
    expect(typed("0", "Height", height, true).status).toBe("faulty");
    expect(typed(" ", "Height", height, true)).toEqual({ status: "empty" });
  });
});
