import { describe, expect, it } from "vitest";
import { clockOf, planFrom, roundedUp } from "../../../../services/web/app/week/planning/planFrom.ts";

const dates = ["2027-06-14", "2027-06-15", "2027-06-16"];

describe("from when it is planned again, unless people say otherwise", () => {
  it("is now on a day of the plan, whatever was reported", () => {
    expect(planFrom("2027-06-15T05:12", dates, null)).toBe("2027-06-15T05:12");
    expect(planFrom("2027-06-15T05:12", dates, "2027-06-14T11:05")).toBe("2027-06-15T05:12");
    expect(planFrom("2027-06-16T23:59", dates, null)).toBe("2027-06-16T23:59");
  });

  it("is the latest report where now is no day of the plan, or else the plan's beginning or end", () => {
    expect(planFrom("2026-11-27T02:40", dates, "2027-06-14T11:05")).toBe("2027-06-14T11:05");
    expect(planFrom("2027-07-01T02:40", dates, "2027-06-15T09:00")).toBe("2027-06-15T09:00");
    expect(planFrom("2026-11-27T02:40", dates, null)).toBe("2027-06-14T00:00");
    expect(planFrom("2027-07-01T02:40", dates, null)).toBe("2027-06-16T23:59");
    expect(planFrom("2027-07-01T02:40", dates, "2027-06-17T00:05")).toBe("2027-06-16T23:59");
  });

  it("goes up to the next five minutes, and stays where it stands on them", () => {
    expect(roundedUp(new Date("2027-06-14T09:01:02Z")).toISOString()).toBe("2027-06-14T09:05:00.000Z");
    expect(roundedUp(new Date("2027-06-14T09:05:00Z")).toISOString()).toBe("2027-06-14T09:05:00.000Z");
    expect(roundedUp(new Date("2027-06-14T09:56:00Z")).toISOString()).toBe("2027-06-14T10:00:00.000Z");
  });
});

describe("a time of day as people type it", () => {
  it.each([
    ["05:30", "05:30"],
    ["5:30", "05:30"],
    ["0530", "05:30"],
    ["530", "05:30"],
    ["5", "05:00"],
    [" 23.59 ", "23:59"],
    ["0", "00:00"],
  ])("reads %s as %s", (typed, clock) => {
    expect(clockOf(typed)).toBe(clock);
  });

  it.each(["", "24:00", "5:7", "12:60", "noon", "5 am", "12345"])("refuses %s", (typed) => {
    expect(clockOf(typed)).toBeNull();
  });
});
