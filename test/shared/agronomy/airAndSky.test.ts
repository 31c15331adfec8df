import { describe, expect, test } from "vitest";
import { figures } from "../../../shared/agronomy/limits.ts";
import { rectangleField } from "../../support/operation.ts";
import { answersOf, fieldPlace, type Situation } from "./oneOrder.ts";

/** Minutes of one day open with this air in all hours. */
function openMinOf(situation: Situation): number {
  const { agronomy, order, helicopter } = answersOf({ days: 1, ...situation });
  return agronomy
    .windows(order, helicopter, { night: true })
    .windows.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
}

const noon = "2027-06-07T12:00";

describe("wind and gusts", () => {
  const asMeasured = { windAt: "asMeasured" } as const;

  test("as much as a limit is allowed, more is not, and the strictest of label, aircraft and operation rules", () => {
    const label = { labels: [{ windMaxKph: 15 }, { windMaxKph: 18 }], limits: asMeasured };
    expect(openMinOf({ ...label, airOfHour: () => ({ windKph: 15 }) })).toBe(1440);
    expect(answersOf({ ...label, airOfHour: () => ({ windKph: 21 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 21 km/h, label of Product 1 allows 15 km/h",
    ]);
    expect(answersOf({ limits: asMeasured, airOfHour: () => ({ windKph: 31 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 31 km/h, aircraft allows 30 km/h",
    ]);
    const ofOperation = { limits: { ...asMeasured, windMaxKph: 12 }, airOfHour: () => ({ windKph: 12.02 }) };
    expect(answersOf(ofOperation).sentencesAt(noon)).toEqual(["wind: wind 12.02 km/h, operation allows 12 km/h"]);
    expect(answersOf({ labels: [{ gustMaxKph: 20 }], airOfHour: () => ({ gustKph: 26 }) }).sentencesAt(noon)).toEqual([
      "gust: gusts 26 km/h, label allows 20 km/h",
    ]);
  });

  test("too little wind stops a label that wants some", () => {
    const calm = { labels: [{ windMinKph: 3 }, {}], limits: asMeasured };
    expect(openMinOf({ ...calm, airOfHour: () => ({ windKph: 3 }) })).toBe(1440);
    expect(answersOf({ ...calm, airOfHour: () => ({ windKph: 2 }) }).sentencesAt(noon)).toEqual([
      "windLow: wind 2 km/h, label of Product 1 wants at least 3 km/h",
    ]);
  });

  // The helicopter releases at 6 m: ln(67.8 x 6 - 5.42) / ln(67.8 x 10 - 5.42) = 5.9949 / 6.5111 = 0.9207.
  test("the mean wind is brought to the height of release, gusts are not, and the sentence says both", () => {
    const label = { labels: [{ windMaxKph: 15, gustMaxKph: 16 }] };
    expect(openMinOf({ ...label, airOfHour: () => ({ windKph: 16.2 }) })).toBe(1440);
    expect(answersOf({ ...label, airOfHour: () => ({ windKph: 21, gustKph: 17 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 19.3 km/h at 6 m (21 km/h at 10 m), label allows 15 km/h",
      "gust: gusts 17 km/h, label allows 16 km/h",
    ]);
    // A wind given at the height of release stays as it is, one given lower down is stronger up there.
    const given = (windHeightM: number) =>
      answersOf({ ...label, airOfHour: () => ({ windKph: 15.2, windHeightM }) }).sentencesAt(noon);
    expect(given(6)).toEqual(["wind: wind 15.2 km/h at 6 m, label allows 15 km/h"]);
    expect(given(2)).toEqual(["wind: wind 18.7 km/h at 6 m (15.2 km/h at 2 m), label allows 15 km/h"]);
    // Too little wind is judged there, too.
    const little = answersOf({ labels: [{ windMinKph: 3 }], airOfHour: () => ({ windKph: 3.2 }) });
    expect(little.sentencesAt(noon)).toEqual([
      "windLow: wind 2.9 km/h at 6 m (3.2 km/h at 10 m), label wants at least 3 km/h",
    ]);
  });

  test("only the hour with the wind is lost", () => {
    const { windows, lostMin } = answersOf({
      days: 1,
      labels: [{ windMaxKph: 15 }],
      airOfHour: (hour) => ({ windKph: hour === 9 ? 17 : 10 }),
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 09:00"],
      ["2027-06-07 10:00", "2027-06-08 00:00"],
    ]);
    expect(lostMin).toEqual({ wind: 60 });
  });
});

describe("Delta T and temperature", () => {
  // Computed with psychrolib 1.1.1 at 101325 Pa: 20 C / 50 % 6.22, 30 / 30 12.03, 10 / 90 0.84.
  test.each([
    [20, 50, []],
    [30, 30, ["deltaT: Delta T 12 °C, label of Product 1 allows 8 °C"]],
    [10, 90, ["deltaT: Delta T 0.8 °C, label of Product 2 wants at least 2 °C"]],
  ])("at %d C and %d %% a label of 2 to 8 says %j", (temperatureC, humidityPct, sentences) => {
    const labels = [{ deltaTMinC: 1, deltaTMaxC: 8 }, { deltaTMinC: 2 }];
    const { sentencesAt } = answersOf({ labels, airOfHour: () => ({ temperatureC, humidityPct }) });
    expect(sentencesAt(noon)).toEqual(sentences);
  });

  test("temperature must lie in every product's range", () => {
    const labels = [{ temperatureMinC: 5, temperatureMaxC: 28 }, { temperatureMinC: 8 }];
    expect(openMinOf({ labels, airOfHour: () => ({ temperatureC: 8 }) })).toBe(1440);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 7 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 7 °C, label of Product 2 wants at least 8 °C",
    ]);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 28.5 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 28.5 °C, label of Product 1 allows 28 °C",
    ]);
  });
});

test("humidity must lie in every product's range, its ends included", () => {
  const labels = [{ humidityMinPct: 40, humidityMaxPct: 95 }, { humidityMaxPct: 90 }];
  expect(openMinOf({ labels, airOfHour: () => ({ humidityPct: 90 }) })).toBe(1440);
  expect(openMinOf({ labels, airOfHour: () => ({ humidityPct: 40 }) })).toBe(1440);
  expect(answersOf({ labels, airOfHour: () => ({ humidityPct: 91 }) }).sentencesAt(noon)).toEqual([
    "humidity: humidity 91 %, label of Product 2 allows 90 %",
  ]);
  expect(answersOf({ labels, airOfHour: () => ({ humidityPct: 39.5 }) }).sentencesAt(noon)).toEqual([
    "humidity: humidity 39.5 %, label of Product 1 wants at least 40 %",
  ]);
});

describe("forecast", () => {
  test("a gap is not calm", () => {
    const { windows, sentencesAt } = answersOf({ days: 1, weather: (steps) => steps.filter((_, hour) => hour !== 10) });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 10:00"],
      ["2027-06-07 11:00", "2027-06-08 00:00"],
    ]);
    expect(sentencesAt("2027-06-07T10:59")).toEqual(["noForecast: no forecast from station S1 at this time"]);
  });

  test("the nearest station rules, and none at all leaves no window", () => {
    const { agronomy, order } = answersOf({
      weather: (steps) => steps.flatMap((step) => [{ ...step, stationId: "S0", latDeg: 51.3 }, step]),
    });
    expect(agronomy.station(order.fieldId)?.id).toBe("S1");
    const none = answersOf({ weather: () => [] });
    expect(none.windows).toEqual([]);
    expect(none.sentencesAt(noon)).toEqual(["noForecast: no forecast: no station at all"]);
  });

  test("steps of half a day and of ten minutes count as long as they last", () => {
    const { windows } = answersOf({
      days: 1,
      labels: [{ windMaxKph: 15 }],
      weather: ([first]) => [
        { ...first!, start: "2027-06-07T00:00:00+02:00", stepMin: 720 },
        { ...first!, start: "2027-06-07T10:00:00Z", stepMin: 10, windKph: 20 },
        { ...first!, start: "2027-06-07T12:10:00+02:00", stepMin: 710 },
      ],
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 12:00"],
      ["2027-06-07 12:10", "2027-06-08 00:00"],
    ]);
  });
});

describe("daylight", () => {
  // At this field the sun of 7 June 2027 is up from 05:04 to 21:26 local time (suncalc, judged in sun.test.ts).
  test("work needs the flying day unless aircraft and crew may work at night", () => {
    const { agronomy, order, multirotor, windows, windowsByDay } = answersOf({ days: 1 });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-08 00:00"]]);
    expect(windowsByDay).toEqual([["2027-06-07 05:04", "2027-06-07 21:26"]]);
    // The small multirotor is not made for the night, whatever the crew may do.
    expect(agronomy.windows(order, multirotor, { night: true })).toEqual(
      agronomy.windows(order, multirotor, { night: false }),
    );
  });

  test("the flying day may begin and end at other heights of the sun, and some minutes off", () => {
    const { windowsByDay, agronomy, order, calendar } = answersOf({
      days: 1,
      limits: { flyingDay: { from: "civilDawn", fromOffsetMin: 5, to: "sunset", toOffsetMin: -30 } },
    });
    const { civil } = agronomy.sunOf(order.fieldId, 0);
    if (civil.kind !== "crosses") throw new Error("it dawns there every day");
    const dawn = calendar.clockOfMin(civil.upMin + 5);
    expect(windowsByDay).toEqual([[`2027-06-07 ${dawn}`, "2027-06-07 20:56"]]);
  });
});

describe("bloom", () => {
  const field = { bloom: { from: "2027-06-01", to: "2027-06-07" } };

  test("bees have the hours from 90 min after sunrise to 60 min before sunset", () => {
    const { windows, sentencesAt } = answersOf({ days: 2, labels: [{ bloomRule: "outsideBeeHours" }], field });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 06:34"],
      ["2027-06-07 20:26", "2027-06-09 00:00"],
    ]);
    expect(sentencesAt(noon)).toEqual([
      "bloom: wheat in bloom, bees forage from 06:34 to 20:26, label forbids work then",
    ]);
  });

  test("hours that reach beyond midnight go on there while the crop is in bloom, and the label is named in a mix", () => {
    // 180 min after the sunset of 7 June at 21:26 are 00:26; that of 6 June was a minute earlier.
    const of = (bloom: { from: string; to: string }) =>
      answersOf({
        days: 2,
        labels: [{}, { bloomRule: "outsideBeeHours" }],
        limits: { beeHours: { startAfterSunriseMin: 90, endBeforeSunsetMin: -180 } },
        field: { bloom },
      });
    const twoDays = of({ from: "2027-06-07", to: "2027-06-08" });
    expect(twoDays.windows).toEqual([
      ["2027-06-07 00:25", "2027-06-07 06:34"],
      ["2027-06-08 00:26", "2027-06-08 06:33"],
    ]);
    expect(["2027-06-07T12:00", "2027-06-08T00:10"].map(twoDays.sentencesAt)).toEqual([
      ["bloom: wheat in bloom, bees forage from 06:34 to Tuesday 00:26, label of Product 2 forbids work then"],
      ["bloom: wheat in bloom, bees forage from Monday 06:34 to Tuesday 00:26, label of Product 2 forbids work then"],
    ]);
    expect(of({ from: "2027-06-07", to: "2027-06-07" }).windows).toEqual([
      ["2027-06-07 00:25", "2027-06-07 06:34"],
      ["2027-06-08 00:00", "2027-06-09 00:00"],
    ]);
  });

  test("forbidden is forbidden all day, to the end of the last day in bloom", () => {
    const labels = [{ bloomRule: "outsideBeeHours" }, { bloomRule: "forbidden" }] as const;
    const { windows, sentencesAt } = answersOf({ days: 2, labels, field });
    expect(windows).toEqual([["2027-06-08 00:00", "2027-06-09 00:00"]]);
    expect(sentencesAt(noon)).toEqual([
      "bloom: wheat in bloom to Mon 7 June, label of Product 2 forbids work in bloom",
    ]);
  });
});

describe("drift", () => {
  // Hives 100 m west of the west edge on the sphere of rectangleField, 100.3 m on the ellipsoid, in the middle of the field's height.
  const west = rectangleField("X", { ...fieldPlace, eastM: fieldPlace.eastM - 100 }, {});
  const [lonDeg, southDeg] = (west.geometry.coordinates as number[][][])[0]![0] as [number, number];
  const northDeg = (west.geometry.coordinates as number[][][])[0]![2]![1]!;
  const hives = {
    type: "Feature" as const,
    geometry: { type: "Point" as const, coordinates: [lonDeg, (southDeg + northDeg) / 2] as [number, number] },
    properties: { id: "hives", kind: "apiary" as const, name: "Hives at the hedge" },
  };
  const drifting = (windFromDeg: number, distanceM: number, radiusM: number, windKph = 8, limits = {}) =>
    answersOf({
      sensitive: [{ ...hives, properties: { ...hives.properties, radiusM } }],
      labels: [{ buffers: [{ kind: "apiary", distanceM, downwindOnly: true }] }],
      limits,
      airOfHour: () => ({ windFromDeg, windKph }),
    }).sentencesAt(noon);

  // The farthest point of the west edge within 150 m is at most sqrt(150^2 - 100^2) = 111.8 m from its middle, and with pieces of
  // 10 m at least 101.8 m: from there the hives lie 48.2 degrees off due west at most, 45.5 at least. 45 more are judged.
  test.each([
    [90, "east"],
    [45, "north-east"],
    [135, "south-east"],
    [0, "north"],
    [180, "south"],
    [356, ""],
    [184, ""],
    [270, ""],
  ])("wind from %d degrees blows at the hives in the west: %s", (windFromDeg, from) => {
    const sentence = `wind from the ${from} blows towards Hives at the hedge, 100.3 m from the field, label wants 150 m downwind`;
    expect(drifting(windFromDeg, 150, 0)).toEqual(from === "" ? [] : [`drift: ${sentence}`]);
  });

  test("a place beyond the distance does not matter, but one that reaches into it does", () => {
    expect(drifting(90, 99, 0)).toEqual([]);
    expect(drifting(90, 99, 10)).toHaveLength(1);
  });

  test("a wind weaker than 3 km/h has no direction and may blow towards any place within its distance", () => {
    // The hives lie in the west, a wind from the west blows away from them.
    const sentence =
      "drift: wind of 2.9 km/h has no steady direction and may blow towards Hives at the hedge, 100.3 m from the field, label wants 150 m downwind";
    expect(drifting(270, 150, 0, 2.9)).toEqual([sentence]);
    expect(drifting(270, 150, 0, 3)).toEqual([]);
    expect(drifting(270, 99, 0, 2.9)).toEqual([]);
    expect(drifting(270, 150, 0, 0, { windVariableBelowKph: 0 })).toEqual([]);
    expect(drifting(270, 150, 0, 5, { windVariableBelowKph: 6 })).toHaveLength(1);
  });

  test("the wind of the forecast counts, not that at the height of release", () => {
    // 3.2 km/h at 10 m are 3.2 x 0.9207 = 2.95 km/h at 6 m.
    expect(drifting(270, 150, 0, 3.2)).toEqual([]);
  });

  test("a distance just under the buffer reads as less", () => {
    expect(drifting(90, 100.4, 0)).toEqual([
      "drift: wind from the east blows towards Hives at the hedge, 100.3 m from the field, label wants 100.4 m downwind",
    ]);
  });
});

test("figures are as short as they can be and still differ", () => {
  expect(figures(21, 15)).toEqual(["21", "15"]);
  expect(figures(8.0312, 8)).toEqual(["8.03", "8"]);
  expect(figures(21.44, 15)).toEqual(["21.4", "15"]);
  expect(figures(8.0001, 8)).toEqual(["8.0001", "8"]);
});
