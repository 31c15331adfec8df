import { describe, expect, it } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { sprayHours, tableHours } from "../../../shared/season/sprayHours.ts";
import { hourlyWeather, smallOperation } from "../../support/operation.ts";

const station = { stationId: "S", latDeg: 51, lonDeg: 11 };

/** The last day of June and the first two of July; from 10:00 on it blows too hard for all. */
const settings = { timeZone: "Europe/Berlin", firstDay: "2027-06-30", days: 3 };
const base = smallOperation({});
const operation = smallOperation({
  settings,
  orders: base.orders.map((order) => ({ ...order, earliest: "2027-06-30T00:00", latest: "2027-07-03T00:00" })),
  weather: hourlyWeather(settings, station, (hour) => (hour % 24 >= 10 ? { windKph: 60, gustKph: 80 } : {})),
});

describe("spray hours", () => {
  const hours = sprayHours(operation);

  it("are the windows of the week's orders, told by month", () => {
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    for (const { aircraftTypeId, orders, months } of hours) {
      const type = operation.fleet.aircraftTypes.find(({ id }) => id === aircraftTypeId)!;
      const able = operation.orders.filter((order) => agronomy.typeLimits(order, type).length === 0);
      expect(orders).toBe(able.length);
      expect(months.map(({ month, days }) => [month, days])).toEqual([
        ["2027-06", 1],
        ["2027-07", 2],
      ]);
      // Minute by minute, as agronomy judges each.
      const open = able.map((order) =>
        Array.from(
          { length: calendar.horizonMin },
          (_, min) => agronomy.judge(order, type, min, { night: false }).length === 0,
        ),
      );
      for (const [at, { anyHours, meanHours }] of months.entries()) {
        const [from, to] = at === 0 ? [0, 1440] : [1440, 4320];
        const minutes = Array.from({ length: to - from }, (_, min) => from + min);
        const any = minutes.filter((min) => open.some((ofOrder) => ofOrder[min])).length;
        const all = open.reduce((sum, ofOrder) => sum + minutes.filter((min) => ofOrder[min]).length, 0);
        expect(anyHours).toBeCloseTo(any / 60, 9);
        expect(meanHours).toBeCloseTo(able.length === 0 ? 0 : all / 60 / able.length, 9);
      }
    }
    // Sunrise is at about 5 in Thuringia then: some five hours a day before the wind.
    const small = hours.find(({ aircraftTypeId }) => aircraftTypeId === "SMALL")!;
    expect(small.months[0]!.anyHours).toBeGreaterThan(2);
    expect(small.months[0]!.anyHours).toBeLessThan(5.5);
    expect(small.months[1]!.anyHours).toBeGreaterThan(1.5 * small.months[0]!.anyHours);
  });

  it("are tabled by type and month, in hours of seven days", () => {
    const type = hours[0]!.aircraftTypeId;
    const week = (anyHours: number, days: number, month = "2027-06") => [
      { aircraftTypeId: type, orders: 2, months: [{ month, days, anyHours, meanHours: anyHours / 2 }] },
    ];
    const row = { aircraftTypeId: type, anyHoursPerWeek: 0, meanHoursPerWeek: 0 };
    // June: 70 h in 14 days. July: 14 h in 7 days, of which two weeks have a part each.
    expect(tableHours([week(30, 7), week(40, 7), week(10, 4, "2027-07"), week(4, 3, "2027-07")])).toEqual([
      { ...row, month: "2027-06", days: 14, anyHoursPerWeek: 35, meanHoursPerWeek: 17.5 },
      { ...row, month: "2027-07", days: 7, anyHoursPerWeek: 14, meanHoursPerWeek: 7 },
    ]);
  });
});
