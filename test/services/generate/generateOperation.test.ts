import { describe, expect, test } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";

import { validateOperation } from "../../../shared/model/validate.ts";
import { geometryReport } from "./geometryReport.ts";
import { expectWholeWeather } from "./wholeWeather.ts";

const sizes = [
  { orders: 5, crews: 1, days: 1, seed: 1 },
  { orders: 12, crews: 2, days: 2, seed: 2 },
  { orders: 85, crews: 5, days: 7, seed: 3 },
  { orders: 300, crews: 12, days: 14, seed: 4 },
  { orders: 85, crews: 5, days: 7, seed: 5, firstDay: "2026-03-25" },
] as const;

describe.each(sizes)("$orders orders, $crews crews, $days days from seed $seed", (request) => {
  const operation = generateOperation(request);

  test("is valid and has the size asked for", () => {
    const outcome = validateOperation(JSON.parse(JSON.stringify(operation)));
    expect(outcome.ok ? [] : outcome.faults).toEqual([]);
    expect(operation.orders).toHaveLength(request.orders);
    expect(operation.fleet.crews).toHaveLength(request.crews);
    expect(operation.settings.days).toBe(request.days);
    expect(operation.products.length).toBeGreaterThanOrEqual(12);
  });

  test("comes out the same again, and otherwise from another seed", () => {
    expect(generateOperation(request)).toEqual(operation);
    expect(generateOperation({ ...request, seed: request.seed + 100 })).not.toEqual(operation);
  });

  test("has fields that hold together on the ground", () => {
    expect(geometryReport(operation).faults).toEqual([]);
  });

  test("has fields of 1 to 80 hectares", () => {
    for (const { areaHa, holesHa, id } of geometryReport(operation).fields) {
      // A hole takes up to a fiftieth of the field it lies in, a field has at most three.
      expect(areaHa + holesHa, id).toBeGreaterThan(0.98);
      expect(areaHa + holesHa, id).toBeLessThan(81);
      expect(holesHa / (areaHa + holesHa), id).toBeLessThan(0.061);
    }
  });

  test("has weather for every station and hour, from a day before to a day beyond the plan", () =>
    expectWholeWeather(operation, 24));
});

test("the orders' dates lie within the plan", () => {
  const operation = generateOperation({ orders: 200, crews: 8, days: 7, seed: 6 });
  const calendar = createCalendar(operation.settings);
  for (const { earliest, latest, id } of operation.orders) {
    expect(calendar.minOfLocal(earliest), id).toBeGreaterThanOrEqual(0);
    expect(calendar.minOfLocal(latest), id).toBeLessThanOrEqual(calendar.horizonMin);
  }
});

test("the wind is calm at morning and evening, strong at noon, and a front brings rain and gusts", () => {
  const { settings, weather } = generateOperation({ orders: 20, crews: 2, days: 7, seed: 8 });
  const calendar = createCalendar(settings);
  const dry = weather.filter(({ rainProbabilityPct, windKph }) => rainProbabilityPct < 15 && windKph < 25);
  const meanWindKph = (from: string, to: string) => {
    const steps = dry.filter(({ start }) => {
      const clock = calendar.clockOfMin(calendar.minOfInstant(start));
      return from <= clock && clock < to;
    });
    return steps.reduce((sum, { windKph }) => sum + windKph, 0) / steps.length;
  };
  expect(meanWindKph("06:00", "10:00")).toBeLessThan(8);
  expect(meanWindKph("20:00", "23:00")).toBeLessThan(10);
  expect(meanWindKph("14:00", "18:00")).toBeGreaterThan(11);
  const wet = weather.filter(({ rainMm }) => rainMm > 0);
  expect(wet.length).toBeGreaterThan(8);
  expect(Math.max(...wet.map(({ gustKph }) => gustKph))).toBeGreaterThan(38);
  expect(new Set(weather.map(({ windFromDeg }) => Math.floor(windFromDeg / 45))).size).toBeGreaterThanOrEqual(4);
});

test("ten thousand orders are quick, two thousand are valid and hold together", () => {
  const started = performance.now();
  const large = generateOperation({ orders: 10_000, crews: 300, days: 7, seed: 1 });
  // About 2.5 s alone; the bound leaves room for a busy machine.
  expect(performance.now() - started).toBeLessThan(20_000);
  expect(large.orders).toHaveLength(10_000);

  const operation = generateOperation({ orders: 2000, crews: 60, days: 7, seed: 1 });
  const outcome = validateOperation(JSON.parse(JSON.stringify(operation)));
  expect(outcome.ok ? [] : outcome.faults).toEqual([]);
  expect(geometryReport(operation).faults).toEqual([]);
}, 120_000);
