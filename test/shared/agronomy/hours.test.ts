import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { answersOf, type Situation } from "./oneOrder.ts";
import { randomOperation } from "./randomOperation.ts";

function hoursIn(situation: Situation) {
  const { agronomy, order, helicopter, calendar } = answersOf({ days: 1, ...situation });
  return { hours: agronomy.hours(order, helicopter, { night: true }), calendar };
}

/** A figure's share beyond what is allowed, words beneath all figures. */
function shareOf({ actual, allowed }: Judgement): number {
  if (typeof actual !== "number" || typeof allowed !== "number") return -1;
  return actual === allowed ? 0 : Math.abs(actual - allowed) / Math.abs(allowed);
}

describe("hours of an order", () => {
  test("tell a limit as it stands where it is worst", () => {
    // An entry at 12:40: the minutes before 09:00, 12:00 and 12:40 leave 220, 40 and 0 min of 4 h.
    const { hours } = hoursIn({
      labels: [{ reiHours: 4 }],
      field: { entries: [{ from: "2027-06-07T12:40", to: "2027-06-07T12:50", who: "scouts" }] },
    });
    const reiAt = (hour: number) => hours[hour]!.judgements.find(({ limit }) => limit === "rei");
    expect([reiAt(8)!.actual, reiAt(11)!.actual, reiAt(12)!.actual]).toEqual([220 / 60, 40 / 60, 0]);

    // Rain from 12:00: of 2 h without it is 1 h left after the minute before 11:00.
    const rainfast = hoursIn({
      labels: [{ rainfastHours: 2 }],
      airOfHour: (hour) => ({ rainMm: hour === 12 ? 1 : 0 }),
    }).hours.map(({ judgements }) => judgements.find(({ limit }) => limit === "rainfast")?.actual);
    expect(rainfast.slice(9, 12)).toEqual([undefined, 1, 0]);
  });

  test("tell the worst of short steps, and the gravest inversion", () => {
    const inQuarters: NonNullable<Situation["weather"]> = (steps) =>
      steps.flatMap((step, hour) =>
        [0, 15, 30, 45].map((minute, quarter) => ({
          ...step,
          start: step.start.replace(/T(\d\d):00/, `T$1:${String(minute).padStart(2, "0")}`),
          stepMin: 15,
          windKph: hour === 12 ? [16, 18, 25, 17][quarter]! : 5,
          cloudPct: quarter < 2 ? 100 : 10,
        })),
      );
    const { hours } = hoursIn({
      limits: { windAt: "asMeasured" },
      labels: [{ windMaxKph: 15, inversionRule: "notWhenPossible" }],
      weather: inQuarters,
    });
    expect(hours[12]!.judgements.map(({ limit, actual }) => [limit, actual])).toEqual([["wind", 25]]);
    // Possible in the first half of the hour, likely in the second.
    expect(hours[2]!.judgements.map(({ limit, actual }) => [limit, actual])).toEqual([["inversion", "likely"]]);
  });

  test("of random operations tell no less than any of their minutes", () => {
    const random = seededRandom(43);
    let figures = 0;
    for (let i = 0; i < 8; i++) {
      const operation = randomOperation(random);
      const agronomy = createAgronomy(operation, calendarOf(operation));
      const [order] = operation.orders;
      const type = operation.fleet.aircraftTypes[i % 2]!;
      for (const { startMin, endMin, judgements } of agronomy.hours(order!, type, { night: true })) {
        const most = new Map<string, number>();
        for (let min = startMin; min < endMin; min++) {
          for (const judgement of agronomy.judge(order!, type, min, { night: true })) {
            most.set(judgement.limit, Math.max(shareOf(judgement), most.get(judgement.limit) ?? -1));
          }
        }
        const told = judgements.map((judgement) => [judgement.limit, shareOf(judgement)] as const);
        expect(new Map(told), `operation ${i}, ${startMin}`).toEqual(most);
        figures += told.filter(([, share]) => share > 0).length;
      }
    }
    expect(figures).toBeGreaterThan(500);
  });

  // On Lord Howe Island clocks go back by half an hour on 4 April 2027 and forward on 3 October (IANA time zone database).
  test.each([
    ["2027-04-03", [24, 25, 24], 30],
    ["2027-10-02", [24, 24, 24], 30],
  ])("from %s on Lord Howe Island begin anew at each midnight", (firstDay, hoursOfDay, shortMin) => {
    const { hours, calendar } = hoursIn({ timeZone: "Australia/Lord_Howe", firstDay, days: 3 });
    const ofDay = calendar.dates.map((date) => hours.filter(({ startMin }) => calendar.dateOfMin(startMin) === date));
    expect(ofDay.map(({ length }) => length)).toEqual(hoursOfDay);
    expect(ofDay.map((day) => calendar.clockOfMin(day[0]!.startMin))).toEqual(["00:00", "00:00", "00:00"]);
    expect(ofDay[2]!.map(({ startMin }) => calendar.clockOfMin(startMin).slice(3))).toEqual(Array(24).fill("00"));
    const lastOfChange = ofDay[1]!.at(-1)!;
    expect(lastOfChange.endMin - lastOfChange.startMin).toBe(shortMin);
    expect(hours.map(({ startMin }) => startMin).slice(1)).toEqual(hours.map(({ endMin }) => endMin).slice(0, -1));
    expect(hours.at(-1)!.endMin).toBe(calendar.horizonMin);
    for (const { startMin, endMin, openMin } of hours) expect(openMin).toBe(endMin - startMin);
  });
});
