import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import { instantOfLocal, instantWords, localOfInstant } from "../../../../services/web/app/kit/instants.ts";

const zones = ["Europe/Madrid", "America/Chicago", "Asia/Kolkata", "Australia/Lord_Howe", "UTC"];

describe("instants on a zone's clocks", () => {
  it.each(zones)("are what luxon makes of them: %s", (zone) => {
    // Every 7 hours and 13 minutes of a year, so that all hours and both changes of clocks come.
    const start = Date.UTC(2027, 0, 1);
    for (let at = 0; at < 1200; at++) {
      const iso = new Date(start + at * 433 * 60_000).toISOString();
      const local = DateTime.fromISO(iso, { zone }).toFormat("yyyy-MM-dd'T'HH:mm");
      expect(localOfInstant(iso, zone)).toBe(local);
      const possible = DateTime.fromISO(local, { zone })
        .getPossibleOffsets()
        .map((one) => one.toUTC().toISO());
      expect(possible).toContain(instantOfLocal(local, zone));
    }
  });

  it("are the first of two where clocks show a time twice, and after the jump where they skip it", () => {
    expect(instantOfLocal("2027-10-31T02:30", "Europe/Madrid")).toBe("2027-10-31T00:30:00.000Z");
    expect(instantOfLocal("2027-03-28T02:30", "Europe/Madrid")).toBe("2027-03-28T01:30:00.000Z");
  });

  it("are read as people say them", () => {
    expect(instantWords("2027-06-14T03:30:00Z", "Europe/Madrid")).toBe("Mon 14 Jun 2027 05:30");
  });
});
