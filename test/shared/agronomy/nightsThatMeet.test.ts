import { describe, expect, test } from "vitest";
import { dateOfDay } from "../../../shared/agronomy/fieldSun.ts";
import { inversionHours } from "../../../shared/agronomy/inversion.ts";
import { type SunCourse, sunDay } from "../../../shared/agronomy/sun.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { answersOf } from "./oneOrder.ts";

const long = { startBeforeSunsetMin: 300, endAfterSunriseMin: 300 };
const dayMin = 1440;
const calendar = createCalendar({ timeZone: "Etc/UTC", firstDay: "2027-06-07", days: 3 });

/** The hours under suns given by day of the horizon, in UTC. */
function hoursUnderSun(courseOf: (day: number) => SunCourse) {
  return inversionHours((day) => ({ horizon: courseOf(day), civil: courseOf(day) }), long, calendar);
}

const risen = (day: number, upHour: number, downHour: number): SunCourse => ({
  kind: "crosses",
  upMin: day * dayMin + upHour * 60,
  downMin: day * dayMin + downHour * 60,
});

describe("hours of successive nights that meet are one stretch", () => {
  // Sunrise at 06:00 and 5 h is 11:00; sunset at 16:00 less 5 h is 11:00, at 16:30 it is 11:30.
  test("from the last day on which they did not", () => {
    const shortFromDay = (first: number) => hoursUnderSun((day) => risen(day, 6, day < first ? 16.5 : 16));
    expect(shortFromDay(-40)[0]!.startMin).toBe(-41 * dayMin + 11.5 * 60);
    expect(shortFromDay(1)[0]!.startMin).toBe(-2 * dayMin + 11.5 * 60);
    expect(shortFromDay(1)).toHaveLength(3);
  });

  test("also through days on which the sun stays down, back to one on which it stays up", () => {
    const hours = hoursUnderSun((day) =>
      day < -30 ? { kind: "above" } : day > -20 && day < -10 ? { kind: "below" } : risen(day, 6, 16),
    );
    expect(hours[0]!.startMin).toBe(-30 * dayMin + 11 * 60);
    expect(hours).toHaveLength(1);
  });

  test("for 366 days where they never break", () => {
    expect(hoursUnderSun((day) => risen(day, 6, 16))[0]!.startMin).toBe(-366 * dayMin + 11 * 60);
    expect(hoursUnderSun(() => ({ kind: "below" }))[0]!.startMin).toBe(-366 * dayMin);
  });

  test("at every latitude they break within the year before", () => {
    for (let latDeg = -90; latDeg <= 90; latDeg += 7.5) {
      for (const firstDay of ["2027-03-20", "2027-06-21", "2027-09-22", "2027-12-21"]) {
        const year = createCalendar({ timeZone: "Etc/UTC", firstDay, days: 1 });
        const sunOfDay = (day: number) => sunDay(year, dateOfDay(year, day), latDeg, 11);
        const [first] = inversionHours(sunOfDay, long, year);
        expect(first?.startMin ?? 0, `${latDeg} ${firstDay}`).toBeGreaterThan(-365 * dayMin);
      }
    }
  });
});

test("a night blown through counts for nothing while the forecast does not reach back to where the hours began", () => {
  // 51 degrees north: 8 hours of sun, less than 5 h before sunset and 5 h after sunrise; in early October 11 hours.
  const windy = { windKph: 14, cloudPct: 5 };
  const lostOn = (firstDay: string) =>
    answersOf({
      firstDay,
      days: 1,
      limits: { inversionHours: long },
      labels: [{ inversionRule: "notWhenPossible" }],
      knownFromHour: -72,
      airOfHour: () => windy,
    }).lostMin.inversion ?? 0;
  expect(lostOn("2027-12-20")).toBe(dayMin);
  expect(lostOn("2027-10-01")).toBe(0);
});
