import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";

/** The answer for the helicopter, by day. 7 June 2027 is a Monday; the sun is up from 05:04 to 21:26. */
function whyAt(localDateTime: string, situation: Situation): string {
  const { agronomy, order, helicopter, calendar } = answersOf(situation);
  return agronomy.why(order, helicopter, calendar.minOfLocal(localDateTime), { night: false });
}

describe("why not Tuesday at 9?", () => {
  const windy: Situation = {
    labels: [{ windMaxKph: 15, gustMaxKph: 25 }],
    // Tuesday is windy until 18:00, Wednesday from 10:00 on.
    airOfHour: (hour) => ((hour >= 24 && hour < 42) || hour >= 58 ? { windKph: 21, gustKph: 30 } : {}),
  };

  test("no, with every limit that stops it and the next open hours", () => {
    expect(whyAt("2027-06-08T09:00", windy)).toBe(
      "Tuesday 8 June 09:00: no, wind 19.3 km/h at 6 m (21 km/h at 10 m), label allows 15 km/h; gusts 30 km/h, label allows 25 km/h; the next open hour is 18:00 to 21:27",
    );
    expect(whyAt("2027-06-08T22:00", windy)).toBe(
      "Tuesday 8 June 22:00: no, outside the flying day: the last ended at 21:27, the next begins at 05:03; the next open hour is Wednesday 05:03 to 10:00",
    );
  });

  test("no, and nothing comes after it", () => {
    expect(whyAt("2027-06-09T12:00", windy)).toContain("; no open hour comes after it, the last was 05:03 to 10:00");
    expect(whyAt("2027-06-07T12:00", { airOfHour: () => ({ rainMm: 1 }) })).toBe(
      "Monday 7 June 12:00: no, rain 1 mm, counts as rain from 0.1 mm; no hour of the plan is open",
    );
  });

  test("while it rains nothing is said of rain to come", () => {
    const wet: Situation = {
      labels: [{ rainfastHours: 4 }],
      airOfHour: (hour) => ({ rainMm: hour >= 12 && hour < 15 ? 1 : 0 }),
    };
    expect(whyAt("2027-06-07T13:00", wet)).toBe(
      "Monday 7 June 13:00: no, rain 1 mm, counts as rain from 0.1 mm; the next open hour is 15:00 to 21:26",
    );
    expect(whyAt("2027-06-07T11:00", wet)).toContain(
      "no, rain from 12:00, label wants 4 h without rain after it; the next",
    );
  });

  test("a next hour that begins at midnight is of the day that begins", () => {
    const { agronomy, order, helicopter } = answersOf({ airOfHour: (hour) => ({ rainMm: hour < 24 ? 1 : 0 }) });
    expect(agronomy.why(order, helicopter, 600, { night: true })).toContain(
      "the next open hour is Tuesday 00:00 to Wednesday 24:00",
    );
  });

  test("yes, with what ends it", () => {
    expect(whyAt("2027-06-09T05:03", windy)).toBe(
      "Wednesday 9 June 05:03: yes, open from 05:03 to 10:00; then wind 19.3 km/h at 6 m (21 km/h at 10 m), label allows 15 km/h; gusts 30 km/h, label allows 25 km/h",
    );
    const { agronomy, order, helicopter } = answersOf({ days: 2 });
    expect(agronomy.why(order, helicopter, 600, { night: true })).toBe(
      "Monday 7 June 10:00: yes, open from 00:00 to Tuesday 24:00; then the plan ends",
    );
  });

  test("no, at no time, when a label or the aircraft forbids it altogether", () => {
    expect(whyAt("2027-06-08T09:00", { labels: [{ carrierMinLPerHa: 30 }], field: { slopePct: 70 } })).toBe(
      "Tuesday 8 June 09:00: no, nor at any other time: carrier 15 L/ha, label of Product 1 wants at least 30 L/ha; slope 70 %, Light helicopter allows 60 %",
    );
  });

  test("no, at no time, when buffers leave nothing or the rate cannot be flown", () => {
    const nothingLeft: Situation = {
      labels: [{ buffers: [{ kind: "school", distanceM: 900 }] }],
      sensitive: [
        {
          type: "Feature",
          geometry: { type: "Point", coordinates: [11.046, 51.011] },
          properties: { id: "S1", kind: "school", name: "School" },
        },
      ],
    };
    expect(whyAt("2027-06-08T09:00", nothingLeft)).toBe(
      "Tuesday 8 June 09:00: no, nor at any other time: buffers leave nothing of the field's 24.08 ha",
    );
    // 2000 L/ha x 28.8 km/h x 16 m / 600
    expect(whyAt("2027-06-08T09:00", { order: { carrierLPerHa: 2000 } })).toBe(
      "Tuesday 8 June 09:00: no, nor at any other time: Light helicopter would have to put out 1536 L/min at its slowest, it can put out 150 L/min",
    );
  });

  test("a time outside the plan has no answer in the forecast", () => {
    expect(whyAt("2027-06-10T00:00", {})).toBe(
      "Thursday 10 June 00:00: no, it lies outside the plan, which goes from Monday 7 June to Wednesday 9 June",
    );
    expect(whyAt("2027-06-06T23:59", {})).toContain("Sunday 6 June 23:59: no, it lies outside the plan");
  });

  test("a next hour more than six days away is told with its date", () => {
    const situation: Situation = { days: 9, airOfHour: (hour) => ({ rainMm: hour < 8 * 24 ? 1 : 0 }) };
    expect(whyAt("2027-06-07T09:00", situation)).toContain("the next open hour is Tuesday 15 June 05:01 to 21:31");
  });

  test("clocks that change are told as they show", () => {
    // On 28 March 2027 clocks in Berlin jump from 02:00 to 03:00; the sun rises at 06:55 by the new time.
    const situation: Situation = { firstDay: "2027-03-28", days: 1 };
    const { agronomy, order, helicopter } = answersOf(situation);
    expect(agronomy.why(order, helicopter, 120, { night: false })).toMatch(/^Sunday 28 March 03:00: no, /);
  });
});

describe("times that the clocks show twice", () => {
  // On 31 October 2027 clocks in Berlin go back from 03:00 to 02:00: local 02:30 is minute 150 and minute 210.
  const answer = (min: number, airOfHour: NonNullable<Situation["airOfHour"]>) => {
    const situation: Situation = { firstDay: "2027-10-31", days: 1, airOfHour };
    const { agronomy, order, helicopter } = answersOf(situation);
    return agronomy.why(order, helicopter, min, { night: true });
  };

  test("are told with which of the two they are", () => {
    const rainy = (hour: number) => ({ rainMm: hour === 2 ? 1 : 0 });
    expect(answer(150, rainy)).toBe(
      "Sunday 31 October 02:30 (first time): no, rain 1 mm, counts as rain from 0.1 mm; the next open hour is 02:00 (second time) to 24:00",
    );
    expect(answer(210, rainy)).toBe(
      "Sunday 31 October 02:30 (second time): yes, open from 02:00 (second time) to 24:00; then the plan ends",
    );
    const dry = (hour: number) => ({ rainMm: hour === 2 ? 0 : 1 });
    expect(answer(0, dry)).toContain("the next open hour is 02:00 (first time) to 02:00 (second time)");
  });

  // In Havana clocks go back on 7 November 2027 from 01:00 to 00:00 (IANA time zone database): that midnight ends no day.
  test("a midnight in the middle of a day is not its end", () => {
    const { agronomy, order, helicopter, calendar } = answersOf({
      timeZone: "America/Havana",
      firstDay: "2027-11-07",
      days: 1,
      airOfHour: (hour) => ({ rainMm: hour === 0 ? 0 : 1 }),
    });
    expect(calendar.horizonMin).toBe(1500);
    expect(agronomy.why(order, helicopter, 30, { night: true })).toContain(
      "00:30 (first time): yes, open from 00:00 (first time) to 00:00 (second time); then rain 1 mm",
    );
  });
});

test("an open time of more than a day names the day of its end", () => {
  const { agronomy, order, helicopter } = answersOf({});
  expect(agronomy.why(order, helicopter, 1440 + 600, { night: true })).toContain(
    "yes, open from Monday 00:00 to Wednesday 24:00",
  );
});

describe("bloom against inversions", () => {
  const bloom = { from: "2027-06-07", to: "2027-06-09" };
  const calm = { windKph: 5, cloudPct: 10 };
  const label = { bloomRule: "outsideBeeHours", inversionRule: "notWhenLikely" } as const;
  // Bees fly from 05:04 + 90 min = 06:34 to 21:26 - 60 min = 20:26; with these hours an inversion may lie from 19:26 to 07:04.
  const inversionHours = { startBeforeSunsetMin: 120, endAfterSunriseMin: 120 };
  const clashOf = (situation: Situation) => {
    const { agronomy, order, helicopter } = answersOf({ days: 1, labels: [label], ...situation });
    return agronomy.clash(order, helicopter, { night: false });
  };

  test("both together leave no minute of the flying day, each alone some", () => {
    const clash = clashOf({ field: { bloom }, limits: { inversionHours }, airOfHour: () => calm });
    // 05:04 to 21:26 are 982 min; bees leave 90 + 60, the inversion 982 - 2 x 120.
    expect(clash).toMatchObject({ flyableMin: 982, leftByBloomMin: 150, leftByInversionMin: 742 });
    expect(clash?.bloom.limit).toBe("bloom");
    expect(clash?.inversion.limit).toBe("inversion");
    expect(clash?.sentence).toBe(
      "bloom and inversion together leave no minute of the 16 h 22 min that could be flown: " +
        "on Monday 7 June wheat in bloom, bees forage from 06:34 to 20:26, label forbids work then (alone it would leave 2 h 30 min in all); " +
        "on Monday 7 June inversion likely (night or its edge, cloud 10 %, wind 5 km/h), label forbids work in a likely one (alone it would leave 12 h 22 min in all)",
    );
  });

  test("no clash while a minute is left, or when one of them alone leaves none", () => {
    expect(clashOf({ field: { bloom }, airOfHour: () => calm })).toBeUndefined();
    expect(clashOf({ limits: { inversionHours }, airOfHour: () => calm })).toBeUndefined();
    const overcast = () => ({ cloudPct: 100 });
    expect(clashOf({ field: { bloom }, limits: { inversionHours }, airOfHour: overcast })).toBeUndefined();
    const forbidden = { labels: [{ ...label, bloomRule: "forbidden" as const }] };
    expect(
      clashOf({ ...forbidden, field: { bloom }, limits: { inversionHours }, airOfHour: () => calm }),
    ).toBeUndefined();
    // A second day without bloom leaves its noon.
    const oneDay = { bloom: { from: "2027-06-07", to: "2027-06-07" } };
    expect(clashOf({ days: 2, field: oneDay, limits: { inversionHours }, airOfHour: () => calm })).toBeUndefined();
  });

  test("minutes outside the order's dates do not count", () => {
    const oneDay = { bloom: { from: "2027-06-07", to: "2027-06-07" } };
    const order = { latest: "2027-06-08T00:00" };
    expect(
      clashOf({ days: 2, order, field: oneDay, limits: { inversionHours }, airOfHour: () => calm })?.flyableMin,
    ).toBe(982);
  });
});

describe("trust in the forecast", () => {
  const confidence = [
    { untilLeadHours: 24, frac: 0.9 },
    { untilLeadHours: 48, frac: 0.7 },
  ];

  test("goes by the lead time from the issue of the forecast, beyond the last row as the last", () => {
    const { agronomy, order, helicopter } = answersOf({ limits: { confidence } });
    const fracs = agronomy.hours(order, helicopter, { night: false }).map(({ confidenceFrac }) => confidenceFrac);
    expect(fracs).toEqual([...Array(24).fill(0.9), ...Array(48).fill(0.7)]);
    expect([agronomy.confidenceOf(24 * 60 - 1), agronomy.confidenceOf(24 * 60)]).toEqual([0.9, 0.7]);
  });

  test("a forecast issued earlier is older at the same hour", () => {
    const { agronomy } = answersOf({ limits: { confidence }, forecastIssued: "2027-06-06T18:00" });
    expect([agronomy.confidenceOf(18 * 60 - 1), agronomy.confidenceOf(18 * 60)]).toEqual([0.9, 0.7]);
  });
});
