import { describe, expect, it } from "vitest";
import { type DayChange, dayChanges } from "../../../../services/web/app/crew/dayChanges.ts";
import { type DaySummary, dayToShow, isToday } from "../../../../services/web/app/crew/dayChoice.ts";
import { nearestAt } from "../../../../services/web/app/crew/makeReport.ts";
import { stripOf } from "../../../../services/web/app/crew/strip.ts";
import { crewSheet } from "../../../../shared/plan/crewSheet.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

const day = (date: string, leave: string, back: string): DaySummary =>
  ({ date, leave, back, stops: 1, areaHa: 1 }) as DaySummary;
const days = [
  day("2027-06-14", "2027-06-14T05:00:00+02:00", "2027-06-14T13:00:00+02:00"),
  day("2027-06-15", "2027-06-15T20:00:00+02:00", "2027-06-16T02:00:00+02:00"),
  day("2027-06-17", "2027-06-17T05:00:00+02:00", "2027-06-17T13:00:00+02:00"),
];
const shownAt = (instant: string) => dayToShow(days, Date.parse(instant))?.date;

describe("the day that is shown", () => {
  it("is today's by the operation's clock, before leaving and after coming home", () => {
    // 22:30 UTC is half past midnight in the operation.
    expect(shownAt("2027-06-13T22:30:00Z")).toBe("2027-06-14");
    expect(shownAt("2027-06-14T21:30:00Z")).toBe("2027-06-14");
    expect(isToday(days[0]!, Date.parse("2027-06-14T22:30:00Z"))).toBe(false);
  });

  it("is still yesterday's while the crew is out past midnight, and the next one on a day off", () => {
    expect(shownAt("2027-06-15T23:30:00Z")).toBe("2027-06-15");
    expect(shownAt("2027-06-16T10:00:00Z")).toBe("2027-06-17");
  });

  it("is the first before the week, the last after it, and none where there is none", () => {
    expect(shownAt("2026-11-26T10:00:00Z")).toBe("2027-06-14");
    expect(shownAt("2027-08-01T10:00:00Z")).toBe("2027-06-17");
    expect(dayToShow([], 0)).toBeNull();
  });
});

const operation = viewOperation();
const oneStop = crewSheet(operation, viewPlan(operation), "K1", "2027-03-26")!;
const sheet = {
  ...oneStop,
  stops: [oneStop.stops[0]!, { ...oneStop.stops[0]!, number: 2, blockId: "second", fieldName: "Short Acre" }],
};
const later = (time: (typeof sheet)["leaveBy"]) => ({ ...time, clock: "09:09", iso: "2027-03-26T09:09:00+01:00" });
const kindsOf = (changes: readonly DayChange[]) => changes.map(({ kind }) => kind);

describe("what has changed in a day", () => {
  it("is nothing in a day that is the same", () => {
    expect(dayChanges(sheet, structuredClone(sheet))).toEqual([]);
  });

  it("is told by what it is, with the clocks of before and now", () => {
    const [first, second] = sheet.stops as [(typeof sheet.stops)[number], (typeof sheet.stops)[number]];
    const changed = {
      ...sheet,
      leaveBy: later(sheet.leaveBy),
      stops: [{ ...first, start: later(first.start), padId: "other" }, second],
    };
    expect(dayChanges(sheet, changed)).toEqual([
      { kind: "leave", before: sheet.leaveBy, now: changed.leaveBy },
      { kind: "start", fieldName: first.fieldName, before: first.start, now: changed.stops[0]!.start },
      { kind: "pad", fieldName: first.fieldName },
    ]);
  });

  it("tells a stop that has come or gone, another order, another mix, other ground and another outfit", () => {
    const [first, second] = sheet.stops as [(typeof sheet.stops)[number], (typeof sheet.stops)[number]];
    const without = { ...sheet, stops: [second] };
    expect(kindsOf(dayChanges(sheet, without))).toEqual(["gone"]);
    expect(kindsOf(dayChanges(without, sheet))).toEqual(["added"]);
    expect(kindsOf(dayChanges(sheet, { ...sheet, stops: [second, first] }))).toEqual(["order"]);
    const mix = { ...first.mix, whole: { ...first.mix.whole, carrierL: 1 } };
    expect(kindsOf(dayChanges(sheet, { ...sheet, stops: [{ ...first, mix }, second] }))).toEqual(["mix"]);
    // Less ground has another mix, too; that is said once.
    const less = { ...first, mix, areaHa: first.areaHa / 2 };
    expect(kindsOf(dayChanges(sheet, { ...sheet, stops: [less, second] }))).toEqual(["ground"]);
    const outfit = { ...sheet.outfit, tender: "Another" };
    expect(kindsOf(dayChanges(sheet, { ...sheet, outfit, people: [] }))).toEqual(["outfit", "people"]);
  });
});

describe("the picture of the day", () => {
  it("has every stop's work within the day, in order, and pauses left out", () => {
    const { rows } = stripOf(sheet, 0);
    expect(rows.map(({ number }) => number)).toEqual(sheet.stops.map(({ number }) => number));
    for (const { work } of rows) {
      for (const { from, to } of work) {
        expect(from).toBeGreaterThanOrEqual(0);
        expect(to).toBeGreaterThan(from);
        expect(to).toBeLessThanOrEqual(1);
      }
    }
    const [stop] = sheet.stops;
    const at = (min: number) => ({ ...stop!.start, min });
    const paused = {
      ...stop!,
      start: at(sheet.leaveBy.min),
      end: at(sheet.leaveBy.min + 100),
      pauses: [{ start: at(sheet.leaveBy.min + 40), end: at(sheet.leaveBy.min + 60), minutes: 20, because: [] }],
    };
    const hundred = { ...sheet, backAt: at(sheet.leaveBy.min + 100), stops: [paused] };
    expect(stripOf(hundred, 0).rows[0]!.work).toEqual([
      { from: 0, to: 0.4 },
      { from: 0.6, to: 1 },
    ]);
  });

  it("says the full hours between leaving and being back, and where now is", () => {
    const from = { ...sheet.leaveBy, min: 0, clock: "22:40", iso: "2027-03-26T22:40:00+01:00" };
    const night = { ...sheet, leaveBy: from, backAt: { ...from, min: 200 }, stops: [] };
    expect(stripOf(night, 0).hours).toEqual([
      { at: 0.1, clock: "23:00" },
      { at: 0.4, clock: "00:00" },
      { at: 0.7, clock: "01:00" },
      { at: 1, clock: "02:00" },
    ]);
    expect(stripOf(night, 0).now).toBeNull();
    expect(stripOf(night, Date.parse("2027-03-26T23:20:00+01:00")).now).toBeCloseTo(0.2, 9);
  });
});

describe("another time of a report", () => {
  it("is the reading of the clock nearest to when it was made, also across midnight", () => {
    const halfPastMidnight = new Date(2027, 5, 15, 0, 30).getTime();
    expect(nearestAt("23:50", halfPastMidnight)).toBe(new Date(2027, 5, 14, 23, 50).toISOString());
    expect(nearestAt("00:10", halfPastMidnight)).toBe(new Date(2027, 5, 15, 0, 10).toISOString());
    for (const faulty of ["", "24:00", "10:60", "noon"]) expect(nearestAt(faulty, halfPastMidnight)).toBeNull();
  });
});
