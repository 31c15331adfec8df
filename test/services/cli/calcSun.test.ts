import { describe, expect, it } from "vitest";
import { answer, calc, rowsOf } from "./runCalc.ts";

describe("the sun by hand", { timeout: 120_000 }, () => {
  // US Naval Observatory, table for 36 57' N 112 31' W, 2023, UTC-7.
  it("the sun to the minute of the almanac", () => {
    const { stdout } = calc(
      ...["sun", "--lat", "36.95", "--lon", "-112.5167", "--date", "2023-06-21", "--zone", "America/Phoenix"],
    );
    expect(rowsOf(stdout)).toMatchObject({ sunrise: "05:11", sunset: "19:53", "length of the day": "14 h 42 min" });
  });

  // Tromso, 69.65 N: the sun of 17 May sets at 00:20 of the 18th, of which it is said that the sun stays up.
  it("that at the edge of a polar day a night may be wrong by an hour", () => {
    const on = (date: string) => ["sun", "--lat", "69.65", "--lon", "18.96", "--zone", "Europe/Oslo", "--date", date];
    const warning = "what is said of a night may be wrong by an hour";
    for (const [date, isEdge] of [
      ["2027-05-15", false],
      ["2027-05-17", true],
      ["2027-05-18", true],
      ["2027-06-21", false],
      ["2027-11-26", false],
    ] as const) {
      expect(answer(...on(date)), date).toMatchObject({ isEdgeOfPolarDay: isEdge });
      expect(
        calc(...on(date))
          .stdout.replace(/\s+/g, " ")
          .includes(warning),
        date,
      ).toBe(isEdge);
    }
  });

  it("what plans take for a civil dusk that does not come", () => {
    const on = (date: string) =>
      calc(...["sun", "--lat", "64.1", "--lon", "-21.9", "--zone", "Atlantic/Reykjavik", "--date", date]).stdout;
    expect(on("2027-06-21")).toContain("plans take the middle between sunset and the next sunrise");
    expect(on("2027-03-21")).not.toContain("plans take");
    const tromso = ["sun", "--lat", "69.65", "--lon", "18.96", "--zone", "Europe/Oslo", "--date", "2027-06-21"];
    expect(calc(...tromso).stdout).toContain("Plans take all of such a day as day");
  });

  // Tromso, 69.65 N: midnight sun in June, polar night in December (MEMORY).
  it("a sun that does not rise, or does not set, by name", () => {
    const tromso = ["sun", "--lat", "69.65", "--lon", "18.96", "--zone", "Europe/Oslo", "--date"];
    expect(answer(...tromso, "2027-06-21")).toMatchObject({ sun: { kind: "above" }, dayLengthMin: 1440 });
    expect(answer(...tromso, "2027-12-21")).toMatchObject({
      sun: { kind: "below" },
      civilTwilight: { kind: "crosses" },
      dayLengthMin: 0,
    });
    expect(calc(...tromso, "2027-12-21").stdout).toContain("the sun stays below the horizon all day");
  });
});
