import { DateTime, Settings } from "luxon";
import { describe, expect, it } from "vitest";
import { addDays, createCalendar, daysBetween } from "../../../shared/model/calendar.ts";

/** Clock changes by the IANA time zone database: last Sunday of March in Europe, first Sunday of October in Adelaide. */
const weeks = [
  { timeZone: "Europe/Rome", firstDay: "2027-03-25", changeDay: 3, changeMin: 23 * 60 },
  { timeZone: "Europe/Rome", firstDay: "2027-10-28", changeDay: 3, changeMin: 25 * 60 },
  { timeZone: "Australia/Adelaide", firstDay: "2027-10-01", changeDay: 2, changeMin: 23 * 60 },
  { timeZone: "Australia/Lord_Howe", firstDay: "2027-04-02", changeDay: 2, changeMin: 24 * 60 + 30 },
];

describe("the calendar", () => {
  for (const { timeZone, firstDay, changeDay, changeMin } of weeks) {
    it(`counts the minutes that really pass: ${timeZone} from ${firstDay}`, () => {
      const calendar = createCalendar({ timeZone, firstDay, days: 7 });
      const lengths = calendar.dates.map((_, day) => calendar.dayStartMin[day + 1]! - calendar.dayStartMin[day]!);
      expect(lengths).toEqual(lengths.map((_, day) => (day === changeDay ? changeMin : 1440)));
      expect(calendar.horizonMin).toBe(6 * 1440 + changeMin);
    });

    it(`agrees with the time zone database minute by minute: ${timeZone} from ${firstDay}`, () => {
      const calendar = createCalendar({ timeZone, firstDay, days: 7 });
      const origin = DateTime.fromISO(firstDay, { zone: timeZone });
      for (let min = -1500; min < calendar.horizonMin + 1500; min += 7) {
        const local = origin.plus({ minutes: min });
        expect(calendar.dateOfMin(min)).toBe(local.toISODate());
        expect(calendar.clockOfMin(min)).toBe(local.toFormat("HH:mm"));
        expect(calendar.minOfInstant(calendar.isoOfMin(min))).toBe(min);
      }
    });
  }

  it("reads a time that the clocks show twice the same way in January and in July", () => {
    // Europe/Berlin, 31 October 2027: 02:30 comes at 00:30 UTC and again at 01:30 UTC (IANA time zone database). Havana's midnight comes twice on 7 November.
    const askedIn = (today: string) => {
      Settings.now = () => Date.parse(today);
      try {
        const berlin = createCalendar({ timeZone: "Europe/Berlin", firstDay: "2027-10-31", days: 1 });
        const havana = createCalendar({ timeZone: "America/Havana", firstDay: "2027-11-07", days: 1 });
        return [
          berlin.minOfLocal("2027-10-31T02:30"),
          berlin.lastMinOfLocal("2027-10-31T02:30"),
          berlin.lastMinOfLocal("2027-10-31T04:00"),
          havana.horizonMin,
        ];
      } finally {
        Settings.now = () => Date.now();
      }
    };
    expect(askedIn("2027-01-15T00:00:00Z")).toEqual([150, 210, 300, 1500]);
    expect(askedIn("2027-07-15T00:00:00Z")).toEqual([150, 210, 300, 1500]);
  });

  it("counts whole days over a leap day and a year's end", () => {
    expect(daysBetween("2028-02-28", "2028-03-01")).toBe(2);
    expect(daysBetween("2027-12-31", "2028-01-01")).toBe(1);
    expect(daysBetween("2027-06-08", "2027-06-01")).toBe(-7);
  });

  it("adds days and counts them as luxon does", () => {
    const origin = DateTime.fromISO("1999-12-31", { zone: "utc" });
    for (let away = 0; away < 20_000; away += 37) {
      const from = origin.plus({ days: away });
      for (const days of [-400, -31, -1, 0, 1, 59, 365]) {
        const to = from.plus({ days }).toISODate()!;
        expect(addDays(from.toISODate()!, days)).toBe(to);
        expect(daysBetween(from.toISODate()!, to)).toBe(days);
      }
    }
  });
});
