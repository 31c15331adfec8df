import { describe, expect, test } from "vitest";
import { exactSunDay, sunDay } from "../../../shared/agronomy/sun.ts";
import { type Calendar, createCalendar } from "../../../shared/model/calendar.ts";

function calendarFrom(timeZone: string, firstDay: string): Calendar {
  return createCalendar({ timeZone, firstDay, days: 1 });
}

function clockMin(clock: string): number {
  const [hours, minutes] = clock.split(":").map(Number);
  return hours! * 60 + minutes!;
}

describe("sunrise and sunset", () => {
  test("are rounded into the day, so that no minute of work lies outside it", () => {
    for (let month = 1; month <= 12; month++) {
      const date = `2027-${String(month).padStart(2, "0")}-11`;
      const calendar = calendarFrom("Europe/Berlin", date);
      const exact = exactSunDay(calendar, date, 51, 11);
      const whole = sunDay(calendar, date, 51, 11);
      for (const height of ["horizon", "civil"] as const) {
        const [inner, outer] = [whole[height], exact[height]];
        if (inner.kind !== "crosses" || outer.kind !== "crosses") throw new Error("the sun rises there every day");
        expect(inner.upMin - outer.upMin).toBeGreaterThanOrEqual(0);
        expect(inner.upMin - outer.upMin).toBeLessThan(1);
        expect(outer.downMin - inner.downMin).toBeGreaterThanOrEqual(0);
        expect(outer.downMin - inner.downMin).toBeLessThan(1);
      }
    }
  });

  test("minutes are whole and lie inside the day that they bound, also on the days when the clocks change", () => {
    // In both zones the day has 1380 or 1500 minutes; the sun does not care, the clock does.
    for (const [timeZone, latDeg, lonDeg, short, long] of [
      ["Europe/Berlin", 51, 11, "2027-03-28", "2027-10-31"],
      ["Australia/Adelaide", -34, 138.5, "2027-10-03", "2027-04-04"],
    ] as const) {
      for (const [date, dayMin] of [
        [short, 1380],
        [long, 1500],
      ] as const) {
        const calendar = calendarFrom(timeZone, date);
        expect(calendar.horizonMin).toBe(dayMin);
        const { horizon, civil } = sunDay(calendar, date, latDeg, lonDeg);
        if (horizon.kind !== "crosses" || civil.kind !== "crosses") throw new Error("the sun rises there every day");
        expect(calendar.dateOfMin(horizon.upMin)).toBe(date);
        expect(calendar.dateOfMin(horizon.downMin)).toBe(date);
        expect(civil.upMin).toBeLessThan(horizon.upMin);
        expect(civil.downMin).toBeGreaterThan(horizon.downMin);
        // An hour is lost or won before sunrise, so the minutes that pass until it shift against the clock.
        const clockOfRise = clockMin(calendar.clockOfMin(horizon.upMin));
        expect(clockOfRise - horizon.upMin).toBe(1440 - dayMin);
      }
    }
  });

  test("a date is the date of the zone, also where its noon is another day in Greenwich", () => {
    // Kiritimati keeps UTC+14 at 157 degrees west.
    const calendar = calendarFrom("Pacific/Kiritimati", "2027-06-07");
    const { horizon } = sunDay(calendar, "2027-06-07", 1.87, -157.4);
    if (horizon.kind !== "crosses") throw new Error("the sun rises there every day");
    expect(calendar.dateOfMin(horizon.upMin)).toBe("2027-06-07");
    expect(horizon.downMin - horizon.upMin).toBeGreaterThan(710);
    expect(horizon.downMin - horizon.upMin).toBeLessThan(740);
  });

  test("a leap day has its own sun", () => {
    const calendar = createCalendar({ timeZone: "Europe/Berlin", firstDay: "2028-02-28", days: 3 });
    const days = calendar.dates.map((date) => sunDay(calendar, date, 51, 11).horizon);
    expect(calendar.dates).toEqual(["2028-02-28", "2028-02-29", "2028-03-01"]);
    const lengths = days.map((day) => (day.kind === "crosses" ? day.downMin - day.upMin : 0));
    expect(lengths[1]).toBeGreaterThan(lengths[0]!);
    expect(lengths[2]).toBeGreaterThan(lengths[1]!);
  });
});

describe("far north", () => {
  // Tromso, 69.65 N: midnight sun about 20 May to 22 July, polar night about 27 November to 15 January (MEMORY).
  test.each([
    ["2027-06-21", "above", "above"],
    ["2027-12-21", "below", "crosses"],
    ["2027-03-21", "crosses", "crosses"],
  ])("on %s the sun's edge is %s and its civil height %s", (date, horizonKind, civilKind) => {
    const { horizon, civil } = sunDay(calendarFrom("Europe/Oslo", date), date, 69.65, 18.96);
    expect([horizon.kind, civil.kind]).toEqual([horizonKind, civilKind]);
  });

  test("in a white night the sun sets but civil dusk does not come", () => {
    const calendar = calendarFrom("Europe/Helsinki", "2027-06-21");
    const { horizon, civil } = sunDay(calendar, "2027-06-21", 62, 25);
    expect(horizon.kind).toBe("crosses");
    expect(civil.kind).toBe("above");
  });

  test("a night that only just stays civil has no dusk, not one in the middle of the next day", () => {
    // The sun is lowest at 6.0 degrees under the horizon, by the day on which suncalc's dusk leaps.
    for (const [zone, date, latDeg, lonDeg] of [
      ["America/Nome", "2027-05-17", 64.5, -165.4],
      ["Atlantic/Reykjavik", "2027-05-19", 64.15, -21.94],
    ] as const) {
      const { horizon, civil } = sunDay(calendarFrom(zone, date), date, latDeg, lonDeg);
      expect([horizon.kind, civil.kind]).toEqual(["crosses", "above"]);
    }
  });

  test("at Christmas it does not even dawn at 78 degrees", () => {
    const { horizon, civil } = sunDay(calendarFrom("Arctic/Longyearbyen", "2027-12-25"), "2027-12-25", 78.22, 15.65);
    expect([horizon.kind, civil.kind]).toEqual(["below", "below"]);
  });

  test("south of the equator the seasons change places", () => {
    const { horizon } = sunDay(calendarFrom("Antarctica/Davis", "2027-12-21"), "2027-12-21", -68.58, 77.97);
    expect(horizon.kind).toBe("above");
  });
});
