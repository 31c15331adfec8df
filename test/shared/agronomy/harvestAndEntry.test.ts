import { describe, expect, test } from "vitest";
import { answersOf } from "./oneOrder.ts";

describe("pre-harvest interval", () => {
  // Extension calendar example: last application 8 June, PHI 7 -> harvest from 15 June.
  test("with seven days, harvest on 15 June allows all of 8 June and nothing of 9 June", () => {
    const { windows, sentencesAt } = answersOf({
      days: 4,
      labels: [{ use: { phiDays: 7 } }],
      field: { harvestDate: "2027-06-15" },
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-09 00:00"]]);
    expect(sentencesAt("2027-06-08T23:59")).toEqual([]);
    expect(sentencesAt("2027-06-09T00:00")).toEqual([
      "phi: harvest begins on Tue 15 June, label wants 7 days before it, no work from Wed 9 June on",
    ]);
  });

  test("of no days still ends the work when the harvest begins", () => {
    const { windows, sentencesAt } = answersOf({ field: { harvestDate: "2027-06-08" } });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-08 00:00"]]);
    const due = ["phi: harvest is due on Tue 8 June, no work on the field from that day on"];
    expect(["2027-06-08T00:00", "2027-06-08T12:00", "2027-06-09T12:00"].map(sentencesAt)).toEqual([due, due, due]);
  });

  test("is told in days before the harvest and the first date without work, from the harvest on as harvest that is due", () => {
    const { sentencesAt } = answersOf({
      labels: [{ reiHours: 24, use: { phiDays: 1 } }],
      field: { harvestDate: "2027-06-09" },
    });
    expect(sentencesAt("2027-06-07T23:59")).toEqual([]);
    expect(sentencesAt("2027-06-08T00:00")).toEqual([
      "phi: harvest begins on Wed 9 June, label wants 24 h before re-entry",
    ]);
    expect(sentencesAt("2027-06-09T00:00")).toEqual([
      "phi: harvest is due on Wed 9 June, no work on the field from that day on",
    ]);
    const two = answersOf({ labels: [{ use: { phiDays: 2 } }], field: { harvestDate: "2027-06-09" } });
    expect(two.sentencesAt("2027-06-08T12:00")).toEqual([
      "phi: harvest begins on Wed 9 June, label wants 2 days before it, no work from Tue 8 June on",
    ]);
  });

  test("counts the leap day", () => {
    const { windows } = answersOf({
      firstDay: "2028-02-27",
      days: 4,
      labels: [{ use: { phiDays: 1 } }],
      field: { harvestDate: "2028-03-01" },
    });
    expect(windows).toEqual([["2028-02-27 00:00", "2028-03-01 00:00"]]);
  });

  test("of the strictest product rules the mix", () => {
    const { windows } = answersOf({
      labels: [{ use: { phiDays: 1 } }, { use: { phiDays: 6 } }],
      field: { harvestDate: "2027-06-14" },
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-09 00:00"]]);
  });

  // WSU extension: REI 72 h with PHI 48 h means 72 h before harvest. UC IPM citrus 2017: methomyl REI 3 d, PHI 1 d.
  test.each([
    [72, 2],
    [72, 1],
  ])("a re-entry interval of %d h longer than %d days rules the harvest", (reiHours, phiDays) => {
    const { windows, sentencesAt } = answersOf({
      labels: [{ reiHours, use: { phiDays } }],
      field: { harvestDate: "2027-06-11" },
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-08 00:00"]]);
    expect(sentencesAt("2027-06-08T06:00")).toEqual([
      "phi: harvest begins on Fri 11 June, label wants 72 h before re-entry",
    ]);
  });

  // UC IPM 2017, citrus: REI h / PHI d. The stricter of the two, in minutes, ends the work.
  test.each([
    ["abamectin", 12, 7, "2027-06-09 00:00"],
    ["carbaryl", 12, 5, "2027-06-11 00:00"],
    ["chlorantraniliprole", 4, 1, "2027-06-14 20:00"],
    ["malathion", 72, 7, "2027-06-09 00:00"],
    ["sulfur", 24, 0, "2027-06-14 00:00"],
  ])("%s with %d h and %d days before a harvest on 15 June", (_, reiHours, phiDays, end) => {
    const { windows } = answersOf({
      firstDay: "2027-06-08",
      days: 9,
      labels: [{ reiHours, use: { phiDays } }],
      field: { harvestDate: "2027-06-15" },
    });
    expect(windows).toEqual([["2027-06-08 00:00", end]]);
  });
});

describe("re-entry interval", () => {
  // 3 CCR 6772: a day of it is 24 h from the end of the application. 4 d from 3 June 14:30 ends 7 June 14:30.
  test("of four days before an entry on 7 June 14:30 lets work end on 3 June 14:30, to the minute", () => {
    const { windows, sentencesAt } = answersOf({
      firstDay: "2027-06-03",
      days: 5,
      labels: [{ reiHours: 96 }],
      field: { entries: [{ from: "2027-06-07T14:30", to: "2027-06-07T16:00", who: "scouts" }] },
    });
    expect(windows).toEqual([
      ["2027-06-03 00:00", "2027-06-03 14:30"],
      ["2027-06-07 16:00", "2027-06-08 00:00"],
    ]);
    expect(sentencesAt("2027-06-03T14:29")).toEqual([]);
    expect(sentencesAt("2027-06-03T14:30")).toEqual([
      "rei: entry by scouts on Mon 7 June 14:30, label wants 96 h before re-entry",
    ]);
    expect(sentencesAt("2027-06-07T15:59")).toEqual(["entry: people in the field until Mon 7 June 16:00: scouts"]);
  });

  test("is told of the next of several entries, in whatever order they are written down", () => {
    const entries = [
      { from: "2027-06-08T12:00", to: "2027-06-08T13:00", who: "crop scout" },
      { from: "2027-06-08T09:00", to: "2027-06-08T10:00", who: "pickers" },
    ];
    for (const written of [entries, entries.toReversed()]) {
      const { sentencesAt } = answersOf({ days: 2, labels: [{ reiHours: 24 }], field: { entries: written } });
      expect(sentencesAt("2027-06-08T08:00")).toEqual([
        "rei: entry by pickers on Tue 8 June 09:00, label wants 24 h before re-entry",
      ]);
      expect(sentencesAt("2027-06-08T11:00")).toEqual([
        "rei: entry by crop scout on Tue 8 June 12:00, label wants 24 h before re-entry",
      ]);
    }
  });

  // EPA and WSU extension: of several products the longest re-entry interval rules.
  test("of the strictest product rules the mix", () => {
    const { windows } = answersOf({
      days: 2,
      labels: [{ reiHours: 4 }, { reiHours: 24 }, { reiHours: 12 }],
      field: { entries: [{ from: "2027-06-08T10:00", to: "2027-06-09T00:00", who: "scouts" }] },
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-07 10:00"]]);
  });

  // 0.31 h are 18.6 minutes, which no whole minute less than 19 covers; 4.1 h are 246 minutes whatever decimals say.
  test.each([
    [0.31, "09:41"],
    [4.1, "05:54"],
  ])("of %d h lets work end at the last whole minute that keeps it", (reiHours, endClock) => {
    const { windows } = answersOf({
      days: 1,
      labels: [{ reiHours }],
      field: { entries: [{ from: "2027-06-07T10:00", to: "2027-06-08T00:00", who: "scouts" }] },
    });
    expect(windows).toEqual([["2027-06-07 00:00", `2027-06-07 ${endClock}`]]);
  });

  // Hours pass, clocks jump: the day before, 24 h before noon is 11:00 in spring and 13:00 in autumn.
  test.each([
    ["Europe/Berlin", "2027-03-27", "2027-03-28", "11:00"],
    ["Europe/Berlin", "2027-10-30", "2027-10-31", "13:00"],
    ["Australia/Adelaide", "2027-10-02", "2027-10-03", "11:00"],
    ["Australia/Adelaide", "2027-04-03", "2027-04-04", "13:00"],
  ])("in %s from %s counts hours that pass", (timeZone, firstDay, changeDay, endClock) => {
    const { windows } = answersOf({
      timeZone,
      firstDay,
      days: 2,
      labels: [{ reiHours: 24 }],
      field: { entries: [{ from: `${changeDay}T12:00`, to: `${changeDay}T23:59`, who: "scouts" }] },
    });
    expect(windows[0]).toEqual([`${firstDay} 00:00`, `${firstDay} ${endClock}`]);
  });
});

describe("days on which the clocks change", () => {
  test.each([
    ["Europe/Berlin", "2027-03-28", 1380],
    ["Europe/Berlin", "2027-10-31", 1500],
    ["Australia/Adelaide", "2027-10-03", 1380],
    ["Australia/Adelaide", "2027-04-04", 1500],
  ])("in %s %s has %d minutes of window", (timeZone, firstDay, minutes) => {
    const { agronomy, order, helicopter } = answersOf({ timeZone, firstDay, days: 1 });
    const { windows, lostMin } = agronomy.windows(order, helicopter, { night: true });
    expect(windows).toEqual([{ startMin: 0, endMin: minutes }]);
    expect(lostMin).toEqual({});
    expect(agronomy.hours(order, helicopter, { night: true })).toHaveLength(minutes / 60);
  });

  // The PHI counts calendar days, so the short day counts whole.
  test("the pre-harvest interval counts the short day as a day", () => {
    const { windows } = answersOf({
      firstDay: "2027-03-26",
      days: 4,
      labels: [{ use: { phiDays: 2 } }],
      field: { harvestDate: "2027-03-29" },
    });
    expect(windows).toEqual([["2027-03-26 00:00", "2027-03-28 00:00"]]);
  });
});

describe("re-treatment and season", () => {
  // BC tree fruit guide: mancozeb on apple, at most 4 a year, at least 7 days apart.
  const mancozeb = { use: { seasonMaxCount: 4, retreatmentDays: 7 } };
  const applied = (date: string) => ({ productId: "P1", endedAt: `${date}T18:00`, ratePerHa: 1 });

  test("the seventh day after an application is the first for the next, from midnight", () => {
    const { windows, sentencesAt } = answersOf({
      labels: [mancozeb],
      field: { pastApplications: [applied("2027-06-01")] },
    });
    expect(windows).toEqual([["2027-06-08 00:00", "2027-06-10 00:00"]]);
    expect(sentencesAt("2027-06-07T12:00")).toEqual([
      "retreatment: Product 1 was applied on Tue 1 June, label wants 7 days between applications, no work before Tue 8 June",
    ]);
  });

  test("an application of a later day is told by its date, and so is one of the day itself", () => {
    const of = (retreatmentDays: number) =>
      answersOf({
        labels: [{ use: { retreatmentDays } }],
        field: { pastApplications: [applied("2027-06-09")] },
      });
    expect(["2027-06-07T12:00", "2027-06-09T12:00"].map(of(7).sentencesAt)).toEqual(
      Array(2).fill([
        "retreatment: Product 1 was applied on Wed 9 June, label wants 7 days between applications, no work before Wed 16 June",
      ]),
    );
    expect(of(1).sentencesAt("2027-06-08T12:00")).toEqual([
      "retreatment: Product 1 was applied on Wed 9 June, label wants 1 day between applications, no work before Thu 10 June",
    ]);
    expect(of(0).sentencesAt("2027-06-08T12:00")).toEqual([
      "retreatment: Product 1 was applied on Wed 9 June, no work before that day",
    ]);
    expect(of(0).sentencesAt("2027-06-09T12:00")).toEqual([]);
  });

  test("of two applications the one that must be waited for longest is told", () => {
    const labels = [{ use: { retreatmentDays: 7 } }, { use: { retreatmentDays: 30 } }];
    const past = [applied("2027-06-05"), { ...applied("2027-06-01"), productId: "P2" }];
    for (const pastApplications of [past, past.toReversed()]) {
      expect(answersOf({ labels, field: { pastApplications } }).sentencesAt("2027-06-07T12:00")).toEqual([
        "retreatment: Product 2 was applied on Tue 1 June, label wants 30 days between applications, no work before Thu 1 July",
      ]);
    }
  });

  test("a fourth application is allowed, a fifth is not", () => {
    const past = ["2027-04-01", "2027-04-20", "2027-05-10"].map(applied);
    const fourth = answersOf({ labels: [mancozeb], field: { pastApplications: past } });
    expect(fourth.agronomy.orderLimits(fourth.order)).toEqual([]);
    const fifth = answersOf({ labels: [mancozeb], field: { pastApplications: [...past, applied("2027-05-25")] } });
    expect(fifth.agronomy.orderLimits(fifth.order).map(({ sentence }) => sentence)).toEqual([
      "application 5 of Product 1 this season, label allows 4 a season",
    ]);
  });

  test("the season's amount counts this order, without the noise of decimals", () => {
    const amountOf = (seasonMaxPerHa: number) => {
      const { agronomy, order } = answersOf({
        labels: [{ use: { rateMinPerHa: 0.1, seasonMaxPerHa } }],
        order: { products: [{ productId: "P1", ratePerHa: 0.1 }] },
        field: { pastApplications: [{ productId: "P1", endedAt: "2027-05-01T08:00", ratePerHa: 0.2 }] },
      });
      return agronomy.orderLimits(order).map(({ sentence }) => sentence);
    };
    expect(0.1 + 0.2).toBeGreaterThan(0.3);
    expect(amountOf(0.3)).toEqual([]);
    expect(amountOf(0.25)).toEqual(["Product 1 0.3 L/ha this season with this order, label allows 0.25 L/ha"]);
  });

  test("another product's past does not count", () => {
    const { windows } = answersOf({
      labels: [mancozeb, {}],
      order: { products: [{ productId: "P2", ratePerHa: 1 }] },
      field: { pastApplications: [applied("2027-06-06")] },
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-10 00:00"]]);
  });
});
