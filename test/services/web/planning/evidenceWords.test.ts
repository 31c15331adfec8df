import { describe, expect, it } from "vitest";
import {
  evidenceWords,
  obstacleDetail,
  quantityWords,
} from "../../../../services/web/app/week/planning/evidenceWords.ts";
import type { Obstacle } from "../../../../shared/plan/plan.ts";

/** Says what it was asked for. */
const quantities = {
  areaHa: (value: number) => `<area ${value}>`,
  lengthM: (value: number) => `<length ${value}>`,
  windKph: (value: number) => `<wind ${value}>`,
  temperatureC: (value: number) => `<temperature ${value}>`,
  deltaC: (value: number) => `<delta ${value}>`,
  volumeL: (value: number) => `<volume ${value}>`,
  rateLPerHa: (value: number) => `<rate ${value}>`,
  rainMm: (value: number) => `<rain ${value}>`,
};
const names = {
  crewName: (id: string) => `Crew ${id}`,
  dayWords: (date: string) => `day ${date}`,
  momentWords: (iso: string) => `moment ${iso}`,
  durationWords: (minutes: number) => `${minutes} min`,
  moneyWords: (cents: number) => `money ${cents}`,
};
const told = (evidence: Record<string, unknown>) => evidenceWords(evidence, quantities, names);

describe("evidence in words", () => {
  it("has every quantity in the units that are chosen", () => {
    const asked: readonly (readonly [number, string, string, string])[] = [
      [21, "km/h", "wind", "<wind 21>"],
      [30, "°C", "temperature", "<temperature 30>"],
      [9, "°C", "deltaT", "<delta 9>"],
      [40, "m", "buffers", "<length 40>"],
      [0.2, "ha", "buffers", "<area 0.2>"],
      [2, "mm", "rain", "<rain 2>"],
      [2000, "L", "water", "<volume 2000>"],
      [40, "L/ha", "label", "<rate 40>"],
      [85, "%", "humidity", "85 %"],
      [3, "", "tender", "3"],
    ];
    for (const [value, unit, limit, words] of asked) expect(quantityWords(value, unit, limit, quantities)).toBe(words);
    expect(quantityWords("none", "km/h", "wind", quantities)).toBe("none");
  });

  it("tells how near a limit comes, when, and how much of the time it closes", () => {
    const obstacle = {
      limit: "wind",
      sentence: "wind 24 km/h, at most 20",
      data: { actual: 24, allowed: 20, unit: "km/h", at: "2027-06-14T06:00+02:00", stoppedHours: 30, ofHours: 48 },
    } as Obstacle;
    expect(obstacleDetail(obstacle, quantities, names)).toBe(
      "<wind 24>, where <wind 20> is the limit; nearest to it on moment 2027-06-14T06:00+02:00; wind closes 30 of 48 hours.",
    );
    expect(obstacleDetail({ ...obstacle, data: {} }, quantities, names)).toBeNull();
  });

  it("tells what could give way, at what loss or gain", () => {
    const swap = { crewId: "a", date: "2027-06-14", displaced: [{ orderId: "O-2", areaHa: 4 }] };
    expect(
      told({
        instead: [
          { ...swap, lossCents: 1200 },
          { ...swap, wouldGainCents: 300 },
        ],
      }),
    ).toEqual([
      "Crew a on day 2027-06-14 could do it in place of O-2 (<area 4>), and money 1200 would be lost by it.",
      "Crew a on day 2027-06-14 could do it in place of O-2 (<area 4>), and money 300 would be won by it: longer planning may find this.",
    ]);
  });

  it("counts the crews that it does not name", () => {
    const crewDays = Array.from({ length: 9 }, (_, at) => ({
      crewId: `c${at}`,
      date: "2027-06-14",
      stops: at === 0 ? 0 : 2,
      dutyMin: 300,
      dutyMaxMin: 600,
    }));
    const [sentence] = told({ fitsAlone: false, crewDays });
    expect(sentence).toContain(
      "Crew c0 on day 2027-06-14 (not out); Crew c1 on day 2027-06-14 (300 min of 600 min on duty)",
    );
    expect(sentence).toContain(" and 3 more.");
  });

  it("knows windows that are too short, hours that are lost and what is worth less than it costs", () => {
    expect(told({ workMin: 90, longestWindowMin: 60, maySplit: false, nightOnly: false })).toEqual([
      "The work takes 90 min at best; the longest time open to it is 60 min.",
      "The order may not be done in parts.",
    ]);
    expect(told({ lostHours: { wind: 12.25, daylight: 9, unheardOf: 3 }, nearest: null })).toEqual([
      "Hours between its dates that are closed by: wind 12.3 h, darkness 9 h.",
    ]);
    expect(told({ crewDay: { crewId: "a", date: "2027-06-14" }, costCents: 900, valueCents: 500 })).toEqual([
      "With Crew a on day 2027-06-14 it would cost money 900 and is worth money 500.",
    ]);
  });

  it("leaves out what it does not know rather than to show raw names", () => {
    expect(told({ closest: "crane-50", types: [{ aircraftTypeId: "crane-50" }], judgements: [] })).toEqual([]);
  });
});
