import { expect, test } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { clockTold, readingsOf, shownTimeWords } from "../../../shared/model/clockReadings.ts";

// Clock changes: IANA time zone database.
test.each([
  ["Europe/Berlin", "2027-06-07T02:30", [150]],
  // From 02:00 to 03:00 on 28 March, from 03:00 to 02:00 on 31 October.
  ["Europe/Berlin", "2027-03-28T01:59", [119]],
  ["Europe/Berlin", "2027-03-28T02:00", []],
  ["Europe/Berlin", "2027-03-28T02:59", []],
  ["Europe/Berlin", "2027-03-28T03:00", [120]],
  ["Europe/Berlin", "2027-10-31T02:00", [120, 180]],
  ["Europe/Berlin", "2027-10-31T02:59", [179, 239]],
  ["Europe/Berlin", "2027-10-31T03:00", [240]],
  // From 01:00 to 00:00 on 7 November: midnight comes twice.
  ["America/Havana", "2027-11-07T00:00", [0, 60]],
  // By half an hour, from 02:00 to 01:30 on 4 April.
  ["Australia/Lord_Howe", "2027-04-04T01:45", [105, 135]],
] as const)("in %s the clocks show %s at the minutes %j", (timeZone, local, minutes) => {
  const calendar = createCalendar({ timeZone, firstDay: local.slice(0, 10), days: 1 });
  expect(readingsOf(calendar, local)).toEqual(minutes);
});

test("a time that comes twice is told with which of the two it is", () => {
  const calendar = createCalendar({ timeZone: "Europe/Berlin", firstDay: "2027-10-31", days: 1 });
  expect([119, 150, 210, 240].map((min) => clockTold(calendar, min))).toEqual([
    "01:59",
    "02:30 (first time)",
    "02:30 (second time)",
    "03:00",
  ]);
});

test("a time that is skipped is refused by naming it and the zone", () => {
  const calendar = createCalendar({ timeZone: "Europe/Berlin", firstDay: "2027-03-28", days: 1 });
  expect(shownTimeWords(calendar, "2027-03-28T02:30")).toBe(
    "a time that the clocks of Europe/Berlin show; they are put forward over 2027-03-28T02:30",
  );
});
