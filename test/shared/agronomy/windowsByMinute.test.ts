import { expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { intervalAt } from "../../../shared/agronomy/intervals.ts";
import { minuteLimits } from "../../../shared/agronomy/limits.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { driftOracle } from "./driftOracle.ts";
import { minuteOracle } from "./minuteOracle.ts";
import { randomOperation } from "./randomOperation.ts";

const operations = 60;
const minutesOfEachType = 40;

/** Ways of being stopped that are only some of those of their limit, by what their sentences say. */
const waysToldOf = {
  "rain of a short step": /^rain 0\.0\d* mm in \d+ min,/,
  "a still hour earlier in the night": /still air earlier that night/,
  "an unknown part of the night": /no weather known for part of the night/,
  "an unknown part of the hours before": /weather is not known for part of the/,
  "a variable wind": /no steady direction/,
};

test("windows and judgements say of random minutes what the table of limits says", () => {
  const random = seededRandom(7);
  const stoppedTimes = new Map<string, number>();
  const toldTimes = new Map<string, number>();
  let nearFieldOnly = 0;
  let open = 0;
  for (let i = 0; i < operations; i++) {
    const operation = randomOperation(random);
    const calendar = calendarOf(operation);
    const agronomy = createAgronomy(operation, calendar);
    const order = operation.orders[0]!;
    const limitsAt = minuteOracle(operation, calendar, order);
    if (driftOracle(operation, order).isNearFieldOnly) nearFieldOnly++;
    for (const type of operation.fleet.aircraftTypes) {
      const night = random() < 0.5;
      const isRest = agronomy.parts(order).length > 1 && random() < 0.5;
      const judged = isRest ? ({ night, rest: true } as const) : { night };
      const { windows } = agronomy.windows(order, type, judged);
      const stops = agronomy.stops(order, type, judged);
      for (let j = 0; j < minutesOfEachType; j++) {
        // Half of the minutes lie at edges, where mistakes live.
        const edge = windows[Math.floor(random() * windows.length)];
        const anywhere = Math.floor(random() * calendar.horizonMin);
        const atEdge = edge && [edge.startMin - 1, edge.startMin, edge.endMin - 1, edge.endMin][j % 4]!;
        const min = j % 2 === 0 || atEdge === undefined ? anywhere : atEdge;
        if (min < 0 || min >= calendar.horizonMin) continue;

        const expected = limitsAt(type, night, min).filter((limit) => !isRest || limit !== "driftNear");
        const judgements = agronomy.judge(order, type, min, judged);
        const found = judgements.map(({ limit }) => limit);
        const where = `operation ${i}, ${type.id}, minute ${min}`;
        expect(found.toSorted(), where).toEqual(expected);
        const stopping = stops.filter(({ stops: spans }) => intervalAt(spans, min));
        expect(
          stopping.map(({ limit }) => limit),
          where,
        ).toEqual(found);
        const inWindow = windows.some(({ startMin, endMin }) => startMin <= min && min < endMin);
        expect(inWindow, where).toBe(expected.length === 0);

        for (const [way, words] of Object.entries(waysToldOf)) {
          const isTold = judgements.some(({ sentence }) => words.test(sentence));
          if (isTold) toldTimes.set(way, (toldTimes.get(way) ?? 0) + 1);
        }
        for (const limit of expected) stoppedTimes.set(limit, (stoppedTimes.get(limit) ?? 0) + 1);
        if (expected.length === 0) open++;
      }
    }
  }
  // The random operations must really exercise every row of the table.
  for (const limit of minuteLimits) expect(stoppedTimes.get(limit) ?? 0, limit).toBeGreaterThan(20);
  for (const way of Object.keys(waysToldOf)) expect(toldTimes.get(way) ?? 0, way).toBeGreaterThan(20);
  expect(nearFieldOnly).toBeGreaterThan(2);
  expect(open).toBeGreaterThan(200);
}, 120_000);

test("windows are sorted, disjoint and whole, and lost minutes are those that judge stops", () => {
  const random = seededRandom(8);
  for (let i = 0; i < 5; i++) {
    const operation = randomOperation(random);
    const calendar = calendarOf(operation);
    const agronomy = createAgronomy(operation, calendar);
    const order = operation.orders[0]!;
    const type = operation.fleet.aircraftTypes[0]!;
    const { windows, lostMin } = agronomy.windows(order, type, { night: false });

    windows.forEach(({ startMin, endMin }, index) => {
      expect(Number.isInteger(startMin) && Number.isInteger(endMin)).toBe(true);
      expect(startMin).toBeLessThan(endMin);
      expect(startMin).toBeGreaterThan(index > 0 ? windows[index - 1]!.endMin : -1);
      expect(endMin).toBeLessThanOrEqual(calendar.horizonMin);
    });

    const counted: Record<string, number> = {};
    let openMin = 0;
    for (let min = 0; min < calendar.horizonMin; min++) {
      const judgements = agronomy.judge(order, type, min, { night: false });
      for (const { limit } of judgements) counted[limit] = (counted[limit] ?? 0) + 1;
      if (judgements.length === 0) openMin++;
    }
    expect(lostMin).toEqual(counted);

    const hours = agronomy.hours(order, type, { night: false });
    expect(hours.reduce((sum, hour) => sum + hour.openMin, 0)).toBe(openMin);
    for (const hour of hours) {
      const told = new Set(hour.judgements.map(({ limit }) => limit));
      expect(told.size).toBe(hour.judgements.length);
      expect(hour.openMin === hour.endMin - hour.startMin).toBe(told.size === 0);
    }
  }
});
