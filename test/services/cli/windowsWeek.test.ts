import { describe, expect, it } from "vitest";
import { stretchesOf } from "../../../services/cli/windows/stretches.ts";
import { weekLines } from "../../../services/cli/windows/weekText.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import { answersOf, type Situation } from "../../shared/agronomy/oneOrder.ts";
import { randomOperation } from "../../shared/agronomy/randomOperation.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";

/** The worst figure on one side of what is allowed tells of all, of different ones allowed by its share; words tell of the same words, an inversion's of its level. */
function isToldBy(told: Judgement, here: Judgement): boolean {
  if (typeof told.actual === "number" && typeof told.allowed === "number") {
    const beyond = Number(here.actual) - Number(here.allowed);
    const most = told.actual - told.allowed;
    if (here.unit === told.unit && here.allowed === told.allowed)
      return beyond < 0 === most < 0 && Math.abs(beyond) <= Math.abs(most);
    const [shareHere, shareTold] = [beyond / Number(here.allowed), most / told.allowed].map(Math.abs);
    return here.actual === here.allowed || shareHere! <= shareTold!;
  }
  return told.limit === "inversion" ? here.actual === told.actual : here.sentence === told.sentence;
}

/** The lines of a week by day, for the multirotor. */
function linesOf(situation: Situation): string[] {
  const { agronomy, calendar, order, multirotor } = answersOf({
    limits: { windAt: "asMeasured" },
    days: 1,
    ...situation,
  });
  const night = { night: false };
  return weekLines(calendar, agronomy.hours(order, multirotor, night), (min) =>
    agronomy.judge(order, multirotor, min, night),
  );
}

describe("the week of an order", () => {
  it("is told by stretches that fill every day, are open exactly in windows, and name what judge names", () => {
    const random = seededRandom(11);
    for (let i = 0; i < 10; i++) {
      const operation = randomOperation(random);
      const calendar = calendarOf(operation);
      const agronomy = createAgronomy(operation, calendar);
      const [order] = operation.orders;
      const [type] = operation.fleet.aircraftTypes;
      const night = { night: random() < 0.5 };
      const judge = (min: number) => agronomy.judge(order!, type!, min, night);
      const stretches = stretchesOf(judge, { startMin: 0, endMin: calendar.horizonMin });
      expect(stretches[0]!.startMin).toBe(0);
      expect(stretches.at(-1)!.endMin).toBe(calendar.horizonMin);
      expect(stretches.slice(1).map(({ startMin }) => startMin)).toEqual(
        stretches.slice(0, -1).map(({ endMin }) => endMin),
      );
      const open = stretches.filter(({ judgements }) => judgements.length === 0);
      expect(open.map(({ startMin, endMin }) => ({ startMin, endMin }))).toEqual(
        agronomy.windows(order!, type!, night).windows,
      );
      for (const { startMin, endMin, judgements } of stretches) {
        for (let min = startMin; min < endMin; min++) {
          const judged = judge(min);
          for (const told of judgements) {
            const here = judged.find(({ limit }) => limit === told.limit);
            if (here === undefined || !isToldBy(told, here))
              throw new Error(`operation ${i}, minute ${min}: ${told.sentence}`);
          }
        }
      }
    }
  });

  // Clocks on Lord Howe go back by half an hour on 4 April 2027 from 02:00 to 01:30 (IANA time zone database).
  it("says where columns begin past the hour that heads them", () => {
    const lines = linesOf({ timeZone: "Australia/Lord_Howe", firstDay: "2027-04-03", days: 3 });
    const words = lines.filter((line) => line.includes("columns"));
    expect(words).toEqual(["      columns from 01:30 (second time) on begin 30 min past the hour that heads them"]);
    const at = lines.indexOf(words[0]!);
    expect(lines[at - 1]).toMatch(/Sun 2027-04-04 {2}00 01 01 02 .* clocks go back$/);
    expect(linesOf({ timeZone: "Europe/Berlin", firstDay: "2027-10-31" }).join()).not.toContain("columns");
  });

  it("tells the worst hour of a stretch, and of the night only that it is night", () => {
    const { agronomy, calendar, order, multirotor } = answersOf({
      days: 1,
      limits: { windAt: "asMeasured" },
      labels: [{ windMaxKph: 15 }],
      // 10 to 13 h: 17, 21, 19 km/h; the night is windy too.
      airOfHour: (hour) => ({ windKph: hour < 3 ? 30 : hour === 10 ? 17 : hour === 11 ? 21 : hour === 12 ? 19 : 8 }),
    });
    const lines = weekLines(calendar, agronomy.hours(order, multirotor, { night: false }), (min) =>
      agronomy.judge(order, multirotor, min, { night: false }),
    );
    expect(lines[0]).toMatch(/^ {2}Mon 2027-06-07 {2}00 01 02 .* 22 23$/);
    expect(lines[1]).toMatch(/^ {2}forecast 95 % {3}(\. {2}){5}\+ {2}(# {2}){4}(\. {2}){3}(# {2}){8}\+ {2}\. {2}\.$/);
    expect(lines.filter((line) => line.includes("km/h"))).toEqual([
      "      10:00-13:00  wind 21 km/h, label allows 15 km/h",
    ]);
    expect(lines.filter((line) => line.includes("OPEN"))).toEqual([
      expect.stringMatching(/^ {6}05:\d\d-10:00 {2}OPEN for 4 h \d\d min$/),
      expect.stringMatching(/^ {6}13:00-21:\d\d {2}OPEN for 8 h \d\d min$/),
    ]);
  });

  it("parts what different closures, entries and levels of inversion stop", () => {
    const closed = linesOf({
      field: {
        closures: [
          { from: "2027-06-07T10:00", to: "2027-06-07T11:00", reason: "irrigation" },
          { from: "2027-06-07T11:00", to: "2027-06-07T11:20", reason: "sheep" },
          { from: "2027-06-07T11:20", to: "2027-06-07T12:00", reason: "irrigation" },
        ],
        entries: [
          { from: "2027-06-07T14:00", to: "2027-06-07T15:00", who: "crop scout" },
          { from: "2027-06-07T15:00", to: "2027-06-07T16:00", who: "pickers" },
        ],
      },
    });
    expect(closed.filter((line) => /closed|people/.test(line))).toEqual([
      "      10:00-11:00  field closed until Mon 7 June 11:00: irrigation",
      "      11:00-11:20  field closed until Mon 7 June 11:20: sheep",
      "      11:20-12:00  field closed until Mon 7 June 12:00: irrigation",
      "      14:00-15:00  people in the field until Mon 7 June 15:00: crop scout",
      "      15:00-16:00  people in the field until Mon 7 June 16:00: pickers",
    ]);
    // A mast: warmer above is likely, as cold above as below possible; by noon it is neither.
    const warmerC = [2, 0, 0, 3, 1];
    const levels = linesOf({
      labels: [{ inversionRule: "notWhenPossible" }],
      airOfHour: (hour) => ({
        temperatureHeightM: 2,
        upperTemperatureHeightM: 10,
        temperatureC: 18,
        upperTemperatureC: 18 + (warmerC[hour - 8] ?? -2),
      }),
    });
    expect(
      levels.filter((line) => /inversion (likely|possible)/.test(line)).map((line) => line.trim().slice(0, 31)),
    ).toEqual([
      "08:00-09:00  inversion likely (",
      "09:00-11:00  inversion possible",
      "11:00-13:00  inversion likely (",
    ]);
  });

  it("tells the worst of steps shorter than an hour, in one line for a windy afternoon", () => {
    const lines = linesOf({
      labels: [{ windMaxKph: 15 }],
      weather: (steps) =>
        steps.flatMap((step, hour) =>
          [0, 15, 30, 45].map((minute) => ({
            ...step,
            start: step.start.replace(/T(\d\d):00/, `T$1:${String(minute).padStart(2, "0")}`),
            stepMin: 15,
            windKph: hour >= 12 && hour < 16 ? ({ 15: 16, 30: 24.5, 45: 18 }[minute] ?? 17) : 8,
          })),
        ),
    });
    expect(lines.filter((line) => line.includes("wind"))).toEqual([
      "      12:00-16:00  wind 24.5 km/h, label allows 15 km/h",
    ]);
  });

  it("tells rain that falls rather than rain that may, and a Delta T on each side of its band by itself", () => {
    const rain = linesOf({
      airOfHour: (hour) => (hour === 10 ? { rainProbabilityPct: 60 } : hour === 11 ? { rainMm: 2 } : {}),
    });
    expect(rain.filter((line) => line.includes("rain"))).toEqual([
      "      10:00-12:00  rain 2 mm, counts as rain from 0.1 mm",
    ]);
    const deltaT = linesOf({
      labels: [{ deltaTMinC: 2, deltaTMaxC: 8 }],
      airOfHour: (hour) =>
        hour === 10 ? { humidityPct: 99 } : hour === 11 ? { temperatureC: 35, humidityPct: 20 } : {},
    });
    expect(deltaT.filter((line) => line.includes("Delta T")).map((line) => line.trim().slice(0, 20))).toEqual([
      expect.stringMatching(/^10:00-11:00 {2}Delta T/),
      expect.stringMatching(/^11:00-12:00 {2}Delta T/),
    ]);
  });

  it("says which of two equal times it means", () => {
    const { agronomy, calendar, order, helicopter } = answersOf({
      firstDay: "2027-10-31",
      days: 1,
      airOfHour: (hour) => ({ rainMm: hour === 2 ? 1 : 0 }),
    });
    const lines = weekLines(calendar, agronomy.hours(order, helicopter, { night: true }), (min) =>
      agronomy.judge(order, helicopter, min, { night: true }),
    );
    expect(lines.slice(3)).toEqual([
      "      00:00-02:00 (first time)                OPEN for 2 h 00 min",
      "      02:00 (first time)-02:00 (second time)  rain 1 mm, counts as rain from 0.1 mm",
      "      02:00 (second time)-24:00               OPEN for 22 h 00 min",
    ]);
  });

  it("puts days that are closed from end to end by the same into one line, and keeps the hours of a long day", () => {
    const { agronomy, calendar, order, helicopter } = answersOf({
      timeZone: "Europe/Berlin",
      firstDay: "2027-10-29",
      days: 4,
      order: { earliest: "2027-10-31T00:00" },
    });
    const lines = weekLines(calendar, agronomy.hours(order, helicopter, { night: true }), (min) =>
      agronomy.judge(order, helicopter, min, { night: true }),
    );
    expect(lines.slice(0, 2)).toEqual([
      "  Fri 2027-10-29 to Sat 2027-10-30, all day",
      "      order begins on Sun 31 October 00:00",
    ]);
    expect(lines[2]).toContain("Sun 2027-10-31  00 01 02 02 03");
    expect(lines[2]).toContain("clocks go back");
    expect(lines).toContain("      00:00-24:00  OPEN for 25 h 00 min");
  });

  it("tells a harvest and an application of all days that they close in one line each", () => {
    const week: Situation = { firstDay: "2027-06-07", days: 7 };
    const harvest = linesOf({
      ...week,
      labels: [{ use: { phiDays: 30 } }],
      field: { harvestDate: "2027-06-20" },
    });
    expect(harvest.map((line) => line.trim()).join(" ")).toBe(
      "Mon 2027-06-07 to Sun 2027-06-13, all day harvest begins on Sun 20 June, label wants 30 days before it, no work from Sat 22 May on",
    );
    const applied = linesOf({
      ...week,
      labels: [{ use: { retreatmentDays: 14 } }],
      field: { pastApplications: [{ productId: "P1", endedAt: "2027-06-05T09:00", ratePerHa: 1 }] },
    });
    expect(applied.map((line) => line.trim()).join(" ")).toBe(
      "Mon 2027-06-07 to Sun 2027-06-13, all day Product 1 was applied on Sat 5 June, label wants 14 days between applications, no work before Sat 19 June",
    );
  });

  it("says that a wind towards a place is not the same all along", () => {
    const house = {
      type: "Feature" as const,
      geometry: { type: "Point" as const, coordinates: [11.046, 51.011] as [number, number] },
      properties: { id: "H", kind: "dwelling" as const, name: "House" },
    };
    const driftLines = (windFromDeg: (hour: number) => number) =>
      linesOf({
        sensitive: [house],
        labels: [{ buffers: [{ kind: "dwelling", distanceM: 300, downwindOnly: true }] }],
        airOfHour: (hour) => ({ windFromDeg: windFromDeg(hour) }),
      })
        .join(" ")
        .replace(/\s+/g, " ");
    // The house stands in the field: every wind blows towards it.
    expect(driftLines((hour) => 10 * (hour % 36))).toMatch(/blows towards House, .* \(the wind changes in that time\)/);
    expect(driftLines(() => 270)).not.toContain("the wind changes");
  });
});
