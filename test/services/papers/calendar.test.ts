import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { crewCalendarText } from "../../../services/papers/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { accented, longNamedOperation } from "../../support/longNames.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

function feed(operation: Operation, crewId: string, publication = 3): string {
  return crewCalendarText({
    operation,
    plan: viewPlan(operation),
    crewId,
    operationKey: "5f0c",
    publication,
    toldAt: new Date("2027-03-25T18:00:00Z"),
  });
}

/** Read by a library that knows nothing of ours. */
function eventsOf(text: string): ICAL.Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  expect(calendar.getFirstPropertyValue("version")).toBe("2.0");
  return calendar.getAllSubcomponents("vevent").map((component) => new ICAL.Event(component));
}

const utc = (time: ICAL.Time) => time.toJSDate().toISOString();

describe("a crew's calendar", () => {
  const operation = viewOperation();
  const text = feed(operation, "K1");
  const events = eventsOf(text);

  it("has an event for every day on which the crew goes out, in UTC, on both sides of the clock change", () => {
    // Berlin is at UTC+1 on Friday 26 March 2027 and, from 02:00 on Sunday 28, at UTC+2.
    const [friday, sunday] = events;
    expect(events).toHaveLength(2);
    expect([utc(friday!.startDate), utc(friday!.endDate)]).toEqual([
      "2027-03-26T06:00:00.000Z",
      "2027-03-26T07:42:00.000Z",
    ]);
    expect(friday!.summary).toBe("Crew 1: 1 stop, 12.0 ha");
    expect(friday!.location).toBe("Yard");
    expect(friday!.description).toContain("1. 07:22 to 08:22 spray Long Acre part 1 of 2, pad P1, 12.0 ha");
    expect(friday!.description).toContain("applicator on site decide");
    expect(utc(sunday!.startDate).slice(0, 10)).toBe("2027-03-28");
    expect(text).not.toContain("VTIMEZONE");
    expect(text).not.toContain("TZID");
  });

  it("says when it was told and where the crew sets out, on a map too: RFC 5545, sections 3.8.7.2 and 3.8.1.6", () => {
    const components = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
    const { latDeg, lonDeg } = operation.settings.bases[0]!;
    for (const component of components) {
      const stamp = component.getFirstPropertyValue("dtstamp") as ICAL.Time;
      expect(utc(stamp)).toBe("2027-03-25T18:00:00.000Z");
      expect(component.getFirstPropertyValue("geo")).toEqual([latDeg, lonDeg]);
      for (const name of ["dtstamp", "dtstart", "dtend"]) {
        expect((component.getFirstPropertyValue(name) as ICAL.Time).zone).toBe(ICAL.Timezone.utcTimezone);
      }
    }
  });

  it("keeps the ids of its events from publication to publication, and counts up their sequence", () => {
    const later = eventsOf(feed(operation, "K1", 4));
    expect(later.map(({ uid }) => uid)).toEqual(events.map(({ uid }) => uid));
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    expect(events.map(({ sequence }) => sequence)).toEqual([3, 3]);
    expect(later.map(({ sequence }) => sequence)).toEqual([4, 4]);
  });

  it("is the same text every time, with lines of at most 75 octets that end with CRLF: RFC 5545, section 3.1", () => {
    expect(feed(operation, "K1")).toBe(text);
    for (const line of feed(longNamedOperation(), "K1").split("\r\n")) {
      expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
      expect(line).not.toContain("\n");
    }
  });

  it("keeps accented names and signs that the format takes for its own", () => {
    const [event] = eventsOf(feed(longNamedOperation(), "K1"));
    expect(event!.summary).toBe(`${accented} K1: 1 stop, 12.0 ha`);
  });

  it("says that nothing is published for a crew without a day, for a calendar has a component: RFC 5545, section 3.6", () => {
    const idle = viewOperation();
    const plan = viewPlan(idle);
    const [none, ...others] = eventsOf(
      crewCalendarText({
        operation: idle,
        plan: { ...plan, crewDays: [] },
        crewId: "K1",
        operationKey: "5f0c",
        publication: 1,
        toldAt: new Date(0),
      }),
    );
    expect(others).toEqual([]);
    expect(none!.summary).toBe("Crew 1: no work published");
    expect([none!.startDate.toString(), none!.endDate.toString()]).toEqual(["2027-03-26", "2027-03-29"]);
  });
});
