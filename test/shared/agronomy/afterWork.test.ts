import { expect, test } from "vitest";
import { harvestAndEntry } from "../../../shared/agronomy/harvestAndEntry.ts";
import { addDays } from "../../../shared/model/calendar.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { answersOf } from "./oneOrder.ts";

/** Weeks of 7 days in which the clocks stay, go forward and go back. */
const weeks = ["2027-06-07", "2027-03-25", "2027-10-28"];

test("work that ends at a minute may be followed by just that harvest and entry, by the limits of the windows too", () => {
  const random = seededRandom(3);
  for (let i = 0; i < 60; i++) {
    const labels = [0, 1].map(() => ({
      reiHours: [0, 4, 4.1, 12, 24, 48.3, 72][Math.floor(random() * 7)]!,
      use: { phiDays: Math.floor(random() * 4) },
    }));
    const firstDay = weeks[i % weeks.length]!;
    const { calendar } = answersOf({ firstDay, days: 7 });
    // Some works end on the stroke of midnight, where dates change.
    const endMin = i % 4 === 0 ? calendar.dayStartMin[1 + (i % 3)]! : 1 + Math.floor(random() * (3 * 1440));
    const { harvestDate, harvestMin, entryMin } = harvestAndEntry(calendar, endMin, {
      phiDays: labels.map(({ use }) => use.phiDays),
      reiHours: labels.map(({ reiHours }) => reiHours),
    });
    expect(calendar.minOfDate(harvestDate)).toBeGreaterThanOrEqual(harvestMin);
    expect(harvestMin).toBeGreaterThanOrEqual(entryMin);

    const stoppedBy = (field: Parameters<typeof answersOf>[0]["field"] & object) => {
      const { agronomy, order, helicopter } = answersOf({ firstDay, days: 7, labels, field });
      return agronomy.judge(order, helicopter, endMin - 1, { night: true }).map(({ limit }) => limit);
    };
    expect(stoppedBy({ harvestDate })).toEqual([]);
    expect(stoppedBy({ harvestDate: addDays(harvestDate, -1) })).toEqual(["phi"]);

    const local = (min: number) => `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;
    const entry = (min: number) => ({ entries: [{ from: local(min), to: local(min + 60), who: "scouts" }] });
    // A clock time that the night shows twice means its first hour.
    if (calendar.minOfLocal(local(entryMin)) !== entryMin) continue;
    expect(stoppedBy(entry(entryMin))).toEqual([]);
    if (entryMin - 1 >= endMin) expect(stoppedBy(entry(entryMin - 1))).toEqual(["rei"]);
  }
});
