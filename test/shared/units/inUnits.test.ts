import { describe, expect, it } from "vitest";
import { inUnits } from "../../../shared/units/inUnits.ts";

const us = { system: "us" } as const;

describe("sentences in US units", () => {
  // By hand from the exact factors of NIST SP 811, appendix B: 1 mi = 1609.344 m, 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 ac = 0.40468564224 ha by the
  // international foot, 1 US gal = 3.785411784 L, 1 lb = 0.45359237 kg (MEMORY).
  it.each([
    ["wind 2.2 km/h at 3 m", "wind 1.4 mph at 10 ft"],
    [
      "wind 20.3 km/h at 2.5 m (25.9 km/h at 10 m), label allows 15 km/h",
      "wind 12.6 mph at 8 ft (16.1 mph at 33 ft), label allows 9.3 mph",
    ],
    // 28 km/h are 17.398 mph: whoever holds 17.3 holds the limit.
    ["gusts 28.2 km/h, label allows 28 km/h", "gusts 17.5 mph, label allows 17.3 mph"],
    ["wind 2.9 km/h, label wants at least 3 km/h", "wind 1.8 mph, label wants at least 1.9 mph"],
    ["Delta T 8.1 °C, label allows 8 °C", "Delta T 14.6 °F, label allows 14.4 °F"],
    ["temperature 30.5 °C, label allows 30 °C", "temperature 86.9 °F, label allows 86 °F"],
    [
      "Delta T 1.4 °C, label wants at least 2 °C; temperature 30 °C",
      "Delta T 2.5 °F, label wants at least 3.6 °F; temperature 86 °F",
    ],
    [
      "inversion likely (23.5 °C at 10 m over 22.2 °C at 2 m), label forbids work in a likely one",
      "inversion likely (74.3 °F at 33 ft over 72 °F at 7 ft), label forbids work in a likely one",
    ],
    ["34.1 m from the field, label wants 200 m downwind", "112 ft from the field, label wants 657 ft downwind"],
    ["rain 0.7 mm, counts as rain from 0.1 mm", "rain 0.028 in, counts as rain from 0.003 in"],
    ["buffers leave 0 of 1.4 ha: school 200 m", "buffers leave 0 of 3.5 ac: school 656 ft"],
    ["Copper at 4.5 L/ha, label allows 3 L/ha", "Copper at 0.48 gal/ac, label allows 0.32 gal/ac"],
    ["temperature 31 °C, label allows 10 to 28 °C", "temperature 87.8 °F, label allows 50 to 82.4 °F"],
    ["gusts 31 km/h, label allows 10 to 28 km/h", "gusts 19.3 mph, label allows 6.3 to 17.3 mph"],
    ["12.7 mm of rain", "0.5 in of rain"],
    ["20 ha are left", "49.4 ac are left"],
    ["2 °C warmer", "3.6 °F warmer"],
    ["Tender (1800 L water)", "Tender (475.5 gal water)"],
  ])("%s", (metric, told) => {
    expect(inUnits(metric, us)).toBe(told);
    expect(inUnits(metric, { system: "metric" })).toBe(metric);
  });

  it("leave alone what is no quantity", () => {
    for (const words of [
      "O-029 and O-030",
      "must stay 48 h from O-029",
      "order begins on Wed 16 June 00:00",
      "the shift ends at 14:30, 64 min later",
      "droplets of 90 to 300 µm",
      "slope 45 %, 40 % allowed",
      "2 Main Road, 3 mares",
      "NPK 5-10 kg",
    ]) {
      expect(inUnits(words, us)).toBe(words);
    }
  });

  it("tell apart what is apart", () => {
    expect(inUnits("wind 27.02 km/h, label allows 27 km/h", us)).toBe("wind 16.8 mph, label allows 16.7 mph");
    expect(inUnits("10.11 ha and 10.12 ha", us)).toBe("24.98 ac and 25.01 ac");
  });
});
