import { describe, expect, it } from "vitest";
import { addDays, createCalendar } from "../../../shared/model/calendar.ts";
import { readingsOf } from "../../../shared/model/clockReadings.ts";
import { createHistory } from "../../../shared/season/history.ts";
import { layWeather } from "../../../shared/season/layWeather.ts";
import { clocksChangeOn, shownAtOrAfter } from "../../../shared/season/localClock.ts";
import { plainStep } from "../../support/dailyWeather.ts";

/** Clocks that change at two, at midnight (before and after it), by half an hour, and not at all. */
const zones = [
  ["Europe/Madrid", 2],
  ["America/New_York", 2],
  ["America/Santiago", 2],
  ["Asia/Beirut", 2],
  ["Australia/Adelaide", 2],
  ["Australia/Lord_Howe", 2],
  ["Asia/Kolkata", 0],
] as const;

const daysOf2026 = Array.from({ length: 365 }, (_, day) => addDays("2026-01-01", day));
const twoDigits = (value: number) => String(value).padStart(2, "0");
const clockOf = (min: number) => `${twoDigits(Math.floor(min / 60))}:${twoDigits(min % 60)}`;

describe.each(zones)("the clocks of %s", (timeZone, changes) => {
  const year = createCalendar({ timeZone, firstDay: "2026-01-01", days: 1 });
  const changing = daysOf2026.filter((date) => clocksChangeOn(year, date));

  it("change on as many days as the zone's rules say", () => {
    // IANA time zone database, rules of 2026.
    expect(changing).toHaveLength(changes);
  });

  it("show every time that a moved time becomes, never an earlier one, and in the same order", () => {
    for (const date of [...changing, "2026-07-08"]) {
      let before = "";
      for (let min = 0; min < 1440; min += 5) {
        const local = `${date}T${clockOf(min)}`;
        const shown = shownAtOrAfter(year, local);
        expect(readingsOf(year, shown).length, `${local} became ${shown}`).toBeGreaterThan(0);
        if (readingsOf(year, local).length > 0) expect(shown).toBe(local);
        expect(shown >= local).toBe(true);
        expect(shown >= before).toBe(true);
        before = shown;
      }
    }
  });

  it.each([15, 60, 180, 1440])(
    "are covered from midnight to midnight by steps of %d min, without a hole or an overlap",
    (stepMin) => {
      // Made of a day at the zone's own midnight, in July, when no clocks change.
      const midnightMs = createCalendar({ timeZone, firstDay: "2026-07-08", days: 1 }).epochMsOfMin(0);
      const steps = Array.from({ length: 1440 / stepMin }, (_, at) =>
        plainStep(new Date(midnightMs + at * stepMin * 60_000).toISOString(), stepMin),
      );
      const history = createHistory(steps, timeZone);
      expect(history.days.map(({ date }) => date)).toEqual(["2026-07-08"]);
      for (const date of [...changing, "2026-02-03"]) {
        const calendar = createCalendar({ timeZone, firstDay: date, days: 1 });
        let endMin = 0;
        for (const laid of layWeather(history, [{ date, day: 0, beginsRun: true }], calendar)) {
          expect(calendar.minOfInstant(laid.start), `${date} ${laid.start}`).toBe(endMin);
          endMin += laid.stepMin;
        }
        expect(endMin).toBe(calendar.horizonMin);
      }
    },
  );
});
