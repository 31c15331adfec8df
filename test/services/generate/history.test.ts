import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoOperation } from "../../../services/scenario/generate/demo/demoOperation.ts";
import { demoHistory, historyText } from "../../../services/scenario/generate/demo/history.ts";
import { demoSeason } from "../../../services/scenario/generate/demo/season.ts";

const committed = (name: string) => readFile(join(import.meta.dirname, "../../../scenarios/cases", name), "utf8");
const steps = demoHistory(demoOperation().settings);
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("the demo's invented history", () => {
  it("is what the script writes, and so is its season", async () => {
    expect(await committed("history.csv")).toBe(historyText(steps));
    expect(await committed("season.json")).toBe(`${JSON.stringify(demoSeason, null, 2)}\n`);
  });

  it("has the year's course, and the weather that follows weather", () => {
    const west = steps.filter(({ stationId }) => stationId === "west");
    const inMonth = (month: string) => west.filter(({ start }) => start.slice(5, 7) === month);
    const meanC = (month: string) => mean(inMonth(month).map(({ temperatureC }) => temperatureC));
    expect(meanC("07")).toBeGreaterThan(meanC("04") + 6);
    expect(meanC("07")).toBeGreaterThan(meanC("09") + 2);
    // It rains in a seventh of the hours at most, and in every month.
    for (const month of ["04", "05", "06", "07", "08", "09"]) {
      const wetShare = inMonth(month).filter(({ rainMm }) => rainMm > 0).length / inMonth(month).length;
      expect(wetShare, month).toBeGreaterThan(0.002);
      expect(wetShare, month).toBeLessThan(0.15);
    }
    // Of a day's mean temperature about seven tenths of what is unusual is left on the next day.
    const daily = Array.from({ length: 180 }, (_, day) =>
      mean(west.slice(24 * day, 24 * day + 24).map(({ temperatureC }) => temperatureC)),
    );
    const usual = daily.map((_, day) => mean(daily.slice(Math.max(0, day - 15), day + 16)));
    const odd = daily.map((value, day) => value - usual[day]!);
    const memory = mean(odd.slice(1).map((value, day) => value * odd[day]!)) / mean(odd.map((value) => value ** 2));
    expect(memory).toBeGreaterThan(0.3);
    expect(memory).toBeLessThan(0.85);
  });

  it("is measured: rain is certain where it fell, and nowhere else", () => {
    expect(steps.every(({ rainMm, rainProbabilityPct }) => rainProbabilityPct === (rainMm > 0 ? 100 : 0))).toBe(true);
  });
});
