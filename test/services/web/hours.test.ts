import { describe, expect, it } from "vitest";
import { hourRangeOf, hoursOnDate, percentOf } from "../../../services/web/page/hours.ts";
import { addressOf, type Place, placeOf } from "../../../services/web/page/place.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { viewOperation, viewPlan, viewReport } from "../../support/viewPlan.ts";

const operation = viewOperation();
const week = weekView(operation, viewPlan(operation), viewReport);

describe("the hours of a strip", () => {
  it("go from 4 to 22, wider when a crew is out earlier or later", () => {
    // Crew 2 leaves at 01:30 on Sunday.
    expect(hourRangeOf(week)).toEqual({ fromHour: 1, toHour: 22 });
    expect(hourRangeOf({ crews: week.crews.slice(0, 1) })).toEqual({ fromHour: 4, toHour: 22 });
    expect(hourRangeOf({ crews: [] })).toEqual({ fromHour: 4, toHour: 22 });
  });

  it("count on after midnight", () => {
    expect(hoursOnDate({ date: "2027-03-26", clock: "05:30" }, "2027-03-26")).toBe(5.5);
    expect(hoursOnDate({ date: "2027-03-27", clock: "01:15" }, "2027-03-26")).toBe(25.25);
    expect(hoursOnDate({ date: "2027-04-01", clock: "00:00" }, "2027-03-31")).toBe(24);
  });

  it("lie within the strip", () => {
    const range = { fromHour: 4, toHour: 22 };
    // 9 of 18 hours.
    expect(percentOf(13, range)).toBe(50);
    expect(percentOf(4, range)).toBe(0);
    expect(percentOf(2, range)).toBe(0);
    expect(percentOf(30, range)).toBe(100);
  });
});

describe("places of the page", () => {
  const places: Place[] = [
    { kind: "start" },
    { kind: "week", planId: "7f9c" },
    { kind: "sheet", planId: "7f9c", crewId: "K.1-a_b", date: "2027-03-26" },
  ];

  it.each(places)("%j has an address that leads back", (place) => {
    expect(placeOf(addressOf(place))).toEqual(place);
  });

  it.each(["", "#", "#main", "#plan", "#plan/a/b", "#plan/a/b/c/d", "#plan/%E0%A4%A"])(
    "%s leads nowhere wrong",
    (address) => {
      expect(["start", "week"]).toContain(placeOf(address).kind);
    },
  );
});
