import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";

type Field = NonNullable<Situation["field"]>;

/** Windows of the helicopter by night, in minutes of the horizon. */
function windowsWith(field: Field, situation: Situation = {}) {
  const { agronomy, order, helicopter } = answersOf({ days: 1, ...situation, field });
  return agronomy
    .windows(order, helicopter, { night: true })
    .windows.map(({ startMin, endMin }) => [startMin, endMin] as const);
}

describe("re-entry before a closure", () => {
  const closure = { from: "2027-06-08T12:00", to: "2027-06-08T18:00", reason: "pickers" };
  const labels = [{ reiHours: 24 }];

  test("people in the field wait for the re-entry interval, as at an entry", () => {
    const { windows, sentencesAt } = answersOf({ days: 2, labels, field: { closures: [closure] } });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 12:00"],
      ["2027-06-08 18:00", "2027-06-09 00:00"],
    ]);
    expect(sentencesAt("2027-06-07T12:00")).toEqual([
      "rei: people are in the field from Tue 8 June 12:00 (pickers), label wants 24 h before re-entry",
    ]);
    expect(sentencesAt("2027-06-08T12:00")).toEqual(["closed: field closed until Tue 8 June 18:00: pickers"]);
  });

  test("a closure without people waits for nothing", () => {
    const { windows } = answersOf({ days: 2, labels, field: { closures: [{ ...closure, people: false }] } });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-08 12:00"],
      ["2027-06-08 18:00", "2027-06-09 00:00"],
    ]);
  });

  test("the first to come is told, be it by an entry or in a closure", () => {
    const entry = { from: "2027-06-08T10:00", to: "2027-06-08T11:00", who: "scouts" };
    const { sentencesAt } = answersOf({ days: 2, labels, field: { closures: [closure], entries: [entry] } });
    expect(sentencesAt("2027-06-08T09:00")).toEqual([
      "rei: entry by scouts on Tue 8 June 10:00, label wants 24 h before re-entry",
    ]);
    expect(sentencesAt("2027-06-08T11:00")).toEqual([
      "rei: people are in the field from Tue 8 June 12:00 (pickers), label wants 24 h before re-entry",
    ]);
  });
});

describe("closures and entries at once", () => {
  const short = { from: "2027-06-07T10:00", to: "2027-06-07T13:00" };
  const long = { from: "2027-06-07T12:00", to: "2027-06-07T15:00" };

  test("the one that ends last is told, in whatever order they are written down", () => {
    for (const [first, second] of [
      [short, long],
      [long, short],
    ] as const) {
      const named = (span: typeof short) => (span === long ? "beekeeper" : "irrigation");
      const { sentencesAt } = answersOf({
        days: 1,
        field: {
          closures: [first, second].map((span) => ({ ...span, reason: named(span) })),
          entries: [first, second].map((span) => ({ ...span, who: named(span) })),
        },
      });
      expect(sentencesAt("2027-06-07T12:30")).toEqual([
        "closed: field closed until Mon 7 June 15:00: beekeeper",
        "entry: people in the field until Mon 7 June 15:00: beekeeper",
      ]);
      expect(sentencesAt("2027-06-07T11:00")).toEqual([
        "closed: field closed until Mon 7 June 13:00: irrigation",
        "entry: people in the field until Mon 7 June 13:00: irrigation",
      ]);
    }
  });
});

// In Berlin clocks go back on 31 October 2027 from 03:00 to 02:00 (IANA time zone database): 02:30 is minute 150 and minute 210.
describe("times that the clocks show twice", () => {
  const night: Situation = { firstDay: "2027-10-31" };
  const toTwice = { from: "2027-10-31T01:30", to: "2027-10-31T02:30" };
  const fromTwice = { from: "2027-10-31T02:30", to: "2027-10-31T06:00" };

  test.each([
    ["closure", (span: typeof toTwice): Field => ({ closures: [{ ...span, reason: "irrigation" }] })],
    ["entry", (span: typeof toTwice): Field => ({ entries: [{ ...span, who: "scouts" }] })],
  ])("a %s ends at the second of them and begins at the first", (_, fieldOf) => {
    expect(windowsWith(fieldOf(toTwice), night)).toEqual([
      [0, 90],
      [210, 1500],
    ]);
    expect(windowsWith(fieldOf(fromTwice), night)).toEqual([
      [0, 150],
      [420, 1500],
    ]);
  });

  test("are told with which of the two they are", () => {
    const labels = [{ reiHours: 1 }];
    const closed = { closures: [{ ...toTwice, reason: "irrigation" }], entries: [{ ...toTwice, who: "scouts" }] };
    expect(answersOf({ ...night, days: 1, field: closed }).sentencesAt("2027-10-31T02:15")).toEqual([
      "closed: field closed until Sun 31 October 02:30 (second time): irrigation",
      "entry: people in the field until Sun 31 October 02:30 (second time): scouts",
    ]);
    const ahead = (field: Field) => answersOf({ ...night, days: 1, labels, field }).sentencesAt("2027-10-31T02:00");
    expect(ahead({ entries: [{ ...fromTwice, who: "scouts" }] })).toEqual([
      "rei: entry by scouts on Sun 31 October 02:30 (first time), label wants 1 h before re-entry",
    ]);
    expect(ahead({ closures: [{ ...fromTwice, reason: "irrigation" }] })).toEqual([
      "rei: people are in the field from Sun 31 October 02:30 (first time) (irrigation), label wants 1 h before re-entry",
    ]);
    const order = { earliest: "2027-10-31T02:30" };
    expect(answersOf({ ...night, days: 1, order }).sentencesAt("2027-10-31T01:00")).toEqual([
      "dates: order begins on Sun 31 October 02:30 (first time)",
    ]);
  });
});
