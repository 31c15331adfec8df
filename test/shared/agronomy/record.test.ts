import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { type MinuteLimit, minuteLimits } from "../../../shared/agronomy/limits.ts";
import { calendarOf, type OperationInput } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { answersOf, type Situation } from "./oneOrder.ts";
import { randomOperation } from "./randomOperation.ts";

const bitOf = (limit: MinuteLimit) => 1 << minuteLimits.indexOf(limit);

describe("record of an order's forecast", () => {
  test("there is a bit for every limit", () => {
    expect(minuteLimits.length).toBeLessThanOrEqual(32);
  });

  test("each step has its limits, open minutes and the worst of them", () => {
    // Wind 20 at the height of release over 15 is a third too much, gusts 30 over 25 a fifth.
    const { agronomy, order, helicopter } = answersOf({
      days: 1,
      limits: { windAt: "asMeasured" },
      labels: [{ windMaxKph: 15, gustMaxKph: 25 }],
      airOfHour: (hour) => (hour === 9 ? { windKph: 20, gustKph: 30 } : hour === 10 ? { gustKph: 26 } : {}),
    });
    const record = agronomy.record(order, helicopter, { night: false });
    expect([...record.stepStartMin]).toEqual(Array.from({ length: 24 }, (_, hour) => hour * 60));
    expect([...record.stepEndMin].slice(-1)).toEqual([1440]);
    expect([record.bits[9], record.bits[10], record.bits[11]]).toEqual([
      bitOf("wind") | bitOf("gust"),
      bitOf("gust"),
      0,
    ]);
    expect([...record.openMin].slice(8, 12)).toEqual([60, 0, 0, 60]);
    // The flying day begins at 05:04.
    expect([record.bits[5], record.openMin[5]]).toEqual([bitOf("daylight"), 56]);
    const worst = [4, 9, 10, 11].map((step) => [
      minuteLimits[record.worstLimit[step]!],
      record.worstActual[step],
      record.worstAllowed[step],
    ]);
    expect(worst).toEqual([
      ["daylight", Number.NaN, Number.NaN],
      ["wind", 20, 15],
      ["gust", 26, 25],
      [undefined, Number.NaN, Number.NaN],
    ]);
  });

  // Until an entry the hours grow fewer within a step: 6 h of 12 are left at its beginning, none at its end.
  test("a figure that grows worse within a step is told as it stands at its worst", () => {
    const inSixHours = (fromHour: number) => (steps: OperationInput["weather"]) =>
      steps.filter((_, hour) => hour % 6 === fromHour).map((step) => ({ ...step, stepMin: 360 }));
    const worstOf = (situation: Situation, fromHour = 0) => {
      const { agronomy, order, helicopter } = answersOf({ days: 1, ...situation, weather: inSixHours(fromHour) });
      const { worstLimit, worstActual, worstAllowed } = agronomy.record(order, helicopter, { night: true });
      return [...worstLimit].map((limit, step) => [minuteLimits[limit], worstActual[step], worstAllowed[step]]);
    };
    const entry = (hour: number) => ({ from: `2027-06-07T${hour}:00`, to: `2027-06-07T${hour}:30`, who: "scouts" });
    const labels = [{ reiHours: 12 }];
    expect(worstOf({ labels, field: { entries: [entry(18)] } }).slice(1, 3)).toEqual([
      // The last minute of the step ends at 12:00, 6 h before the entry.
      ["rei", 6, 12],
      ["rei", 0, 12],
    ]);
    // Of two entries the first is reached in the middle of a step that the second stops as well, by 1 h at its end.
    expect(worstOf({ labels, field: { entries: [entry(15), entry(19)] } }).slice(1, 3)).toEqual([
      ["rei", 3, 12],
      ["rei", 0, 12],
    ]);
    // Harvest on 9 June after 2 days: of the step from 21:00 to 03:00 the minute before midnight leaves 24 h of 200, those after it 1 day of 2.
    const harvest = { labels: [{ reiHours: 200, use: { phiDays: 2 } }], field: { harvestDate: "2027-06-09" } };
    expect(worstOf({ ...harvest, days: 2 }, 3)[3]).toEqual(["phi", 24, 200]);
    const rain = (hour: number) => ({ rainMm: hour === 12 ? 0.11 : 0 });
    expect(worstOf({ labels: [{ rainfastHours: 4 }], airOfHour: rain }).slice(1, 3)).toEqual([
      ["rainfast", 0, 4],
      ["rainfast", 0, 4],
    ]);
  });

  test("without a station there is nothing to record", () => {
    const { agronomy, order, helicopter } = answersOf({ weather: () => [] });
    expect(agronomy.record(order, helicopter, { night: true }).bits).toHaveLength(0);
  });

  test("says of random operations what judge says of every minute", () => {
    const random = seededRandom(41);
    for (let i = 0; i < 8; i++) {
      const operation = randomOperation(random);
      const calendar = calendarOf(operation);
      const { horizonMin } = calendar;
      const agronomy = createAgronomy(operation, calendar);
      const order = operation.orders[0]!;
      const type = operation.fleet.aircraftTypes[i % 2]!;
      const night = { night: i % 3 === 0 };
      const record = agronomy.record(order, type, night);
      const { steps } = agronomy.station(order.fieldId)!;
      const inHorizon = steps.filter(({ startMin, endMin }) => startMin < horizonMin && endMin > 0);
      expect([...record.stepStartMin]).toEqual(inHorizon.map(({ startMin }) => startMin));
      inHorizon.forEach(({ startMin, endMin }, step) => {
        let bits = 0;
        let openMin = 0;
        const excessOf = new Map<string, number>();
        let worstExcess = -2;
        for (let min = Math.max(0, startMin); min < Math.min(endMin, horizonMin); min++) {
          const judgements = agronomy.judge(order, type, min, night);
          if (judgements.length === 0) openMin++;
          for (const { limit, actual, allowed } of judgements) {
            bits |= bitOf(limit as MinuteLimit);
            const isFigure = typeof actual === "number" && typeof allowed === "number";
            const share =
              actual === allowed ? 0 : Math.abs(Number(actual) - Number(allowed)) / Math.abs(Number(allowed));
            const excess = isFigure ? share : -1;
            worstExcess = Math.max(excess, worstExcess);
            excessOf.set(limit, Math.max(excess, excessOf.get(limit) ?? -1));
          }
        }
        const where = `operation ${i}, step ${step}`;
        expect(record.bits[step], where).toBe(bits);
        expect(record.openMin[step], where).toBe(openMin);
        const worst = minuteLimits[record.worstLimit[step]!];
        if (worst === undefined) expect(bits, where).toBe(0);
        else {
          expect(excessOf.get(worst), where).toBe(worstExcess);
          const [actual, allowed] = [record.worstActual[step]!, record.worstAllowed[step]!];
          const share = actual === allowed ? 0 : Math.abs(actual - allowed) / Math.abs(allowed);
          expect(share, where).toBe(worstExcess < 0 ? Number.NaN : worstExcess);
        }
      });
    }
  });
});
