import { describe, expect, it } from "vitest";
import { calmDays } from "../../../../services/web/app/weather/calmDays.ts";
import { flyingSpans } from "../../../../services/web/app/weather/flyingSpans.ts";
import { stationHours } from "../../../../services/web/app/weather/stationHours.ts";
import { stationWords } from "../../../../services/web/app/weather/stationWords.ts";
import { flyingDays } from "../../../../shared/agronomy/daylight.ts";
import { dateOfDay } from "../../../../shared/agronomy/fieldSun.ts";
import { sunDay } from "../../../../shared/agronomy/sun.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { richOperation } from "../../../support/richOperation.ts";

const operation = richOperation();
const [step] = operation.weather;
const limits = { windMaxKph: 15, windMinKph: 3, gustMaxKph: 20 };
const settings = { ...operation.settings, timeZone: "UTC", firstDay: "2027-06-14", days: 2 };

/** Hours of the first day from midnight, by their winds; the rest is calm air without rain. */
const hoursOf = (...winds: number[]) =>
  stationHours(
    {
      ...operation,
      settings,
      weather: winds.map((windKph, hour) => ({
        ...step!,
        start: `2027-06-14T${String(hour).padStart(2, "0")}:00:00Z`,
        stepMin: 60,
        windKph,
        gustKph: windKph,
        rainMm: hour === 7 ? 0.4 : 0,
      })),
    },
    step!.stationId,
  );
const atS = (clock: string) => Date.parse(`2027-06-14T${clock}:00Z`) / 1000;

describe("the calm hours of days", () => {
  it("are those of the flying day within the limits; the rest is counted by what closes it", () => {
    // 0 to 5 calm, 5 too still, 6 calm, 7 rain, 8 too windy, 9 calm; it may be flown from 05:30 to 09:30.
    const hours = hoursOf(5, 5, 5, 5, 5, 2, 5, 5, 16, 5);
    const [first, second] = calmDays(hours, limits, [{ fromS: atS("05:30"), toS: atS("09:30") }], settings);
    expect(first!.calm).toEqual([
      { from: "06:00", to: "07:00" },
      { from: "09:00", to: "09:30" },
    ]);
    expect(first!.calmS).toBe(1.5 * 3600);
    expect(first!.closed).toEqual([
      { closing: "rain", seconds: 3600 },
      { closing: "wind", seconds: 3600 },
      { closing: "windLow", seconds: 1800 },
    ]);
    expect(first!.nights.map(({ from, to }) => [from * 24, to * 24])).toEqual([
      [0, 5.5],
      [9.5, 24],
    ]);
    expect(first!.cells.map(({ closing }) => closing)).toEqual([
      ...[null, null, null, null, null],
      ...["windLow", null, "rain", "wind", null],
    ]);
    expect(second).toMatchObject({ date: "2027-06-15", cells: [], calm: [], calmS: 0 });
  });

  it.each(["Europe/Madrid", "America/Denver", "Australia/Sydney"])("have the flying day of plans: %s", (timeZone) => {
    const zoned = { ...settings, timeZone, days: 7 };
    const { latDeg, lonDeg } = step!;
    const calendar = createCalendar(zoned);
    const sunOfDay = (day: number) => sunDay(calendar, dateOfDay(calendar, day), latDeg, lonDeg);
    const ofPlans = flyingDays(sunOfDay, zoned.limits.flyingDay, calendar).map(({ endMin, startMin }) => ({
      fromS: calendar.epochMsOfMin(startMin) / 1000,
      toS: calendar.epochMsOfMin(endMin) / 1000,
    }));
    const [first] = stationHours(
      { ...operation, settings: zoned, weather: [{ ...step!, start: "2027-06-14T12:00:00Z" }] },
      step!.stationId,
    );
    const shown = flyingSpans([first!], zoned);
    expect(shown.length).toBeGreaterThanOrEqual(zoned.days);
    expect(shown).toEqual(ofPlans);
  });
});

describe("stations", () => {
  it("read as people write them, unless two would read the same", () => {
    expect(stationWords("station-west", ["station-west", "station-east"])).toBe("Station west");
    expect(stationWords("hill_1", ["hill_1", "hill-1"])).toBe("hill_1");
    expect(stationWords("--", ["--"])).toBe("--");
  });
});
