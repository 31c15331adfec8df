import { describe, expect, it } from "vitest";
import { intervalsAfter } from "../../../../services/web/app/crew/intervalsAfter.ts";
import { harvestAndEntry } from "../../../../shared/agronomy/harvestAndEntry.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";

const planned = {
  reentryHours: 4,
  reentryFrom: { date: "2027-06-14", clock: "13:23" },
  phiDays: 7,
  harvestFrom: "2027-06-21",
};
const finished = (endedAt: string) => ({ state: "finished", endedAt }) as const;

describe("the intervals after a stop", () => {
  it("tells of one that is not finished the interval first, and the planned time as one that may not hold", () => {
    const plannedWords = {
      reentry: "4 h after the end of the work: Mon 14 Jun 13:23 if it ends as planned",
      harvest: "7 days after the day of the work: Mon 21 Jun if it ends as planned",
    };
    expect(intervalsAfter(planned, { state: "notBegun", endedAt: null }, "Europe/Madrid")).toEqual(plannedWords);
    // Stopped half done: the rest is still to be treated.
    const stopped = { state: "stopped", endedAt: "2027-06-14T07:15:00Z" } as const;
    expect(intervalsAfter(planned, stopped, "Europe/Madrid")).toEqual(plannedWords);
  });

  it("says so of a label that sets none", () => {
    expect(
      intervalsAfter({ ...planned, reentryHours: 0, phiDays: 0 }, finished("2027-06-14T07:20:00Z"), "Europe/Madrid"),
    ).toEqual({
      reentry: "Mon 14 Jun 09:20, the reported end, as the label sets no interval",
      harvest: "Tue 15 Jun, the day of the work, as the label sets no interval",
    });
  });

  // 3 CCR 6772: an hour of the interval passes from the end of the application.
  it("counts from the reported end, not from the planned one", () => {
    expect(intervalsAfter(planned, finished("2027-06-14T08:30:20Z"), "Europe/Madrid")).toEqual({
      reentry: "Mon 14 Jun 14:31, 4 h after the reported end",
      harvest: "Mon 21 Jun, 7 days after the day of the work",
    });
  });

  // Extension calendar example: last application 8 June, PHI 7 -> harvest from 15 June.
  it("lets harvest begin on 15 June after work on 8 June with seven days", () => {
    const { harvest } = intervalsAfter(
      { ...planned, reentryHours: 12 },
      finished("2027-06-08T21:00:00Z"),
      "Europe/Madrid",
    );
    expect(harvest).toBe("Tue 15 Jun, 7 days after the day of the work");
  });

  it("agrees with the planner's own reckoning, also where clocks jump", () => {
    for (const timeZone of ["Europe/Madrid", "America/Chicago", "Australia/Lord_Howe"]) {
      const calendar = createCalendar({ timeZone, firstDay: "2027-03-12", days: 24 });
      for (let endMin = 5; endMin < 12 * 1440; endMin += 431) {
        for (const [reentryHours, phiDays] of [
          [0, 0],
          [4, 0],
          [12, 1],
          [24, 1],
          [48, 7],
          [72, 3],
        ] as const) {
          const { entryMin, harvestDate } = harvestAndEntry(calendar, endMin, {
            reiHours: [reentryHours],
            phiDays: [phiDays],
          });
          const endedAt = new Date(calendar.epochMsOfMin(endMin)).toISOString();
          const { harvest, reentry } = intervalsAfter(
            { ...planned, reentryHours, phiDays },
            finished(endedAt),
            timeZone,
          );
          const day = (date: string) =>
            new Date(`${date}T00:00Z`).toLocaleDateString("en-GB", { timeZone: "UTC", day: "numeric", month: "short" });
          expect(harvest, `${timeZone} ${endedAt}`).toContain(` ${day(harvestDate)},`);
          expect(reentry).toContain(` ${day(calendar.dateOfMin(entryMin))} ${calendar.clockOfMin(entryMin)},`);
        }
      }
    }
  });
});
