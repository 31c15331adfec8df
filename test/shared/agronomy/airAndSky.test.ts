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
      "wind: wind 21 km/h, label of Product 1 allows 15",
    ]);
    expect(answersOf({ limits: asMeasured, airOfHour: () => ({ windKph: 31 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 31 km/h, aircraft allows 30",
    ]);
    const ofOperation = { limits: { ...asMeasured, windMaxKph: 12 }, airOfHour: () => ({ windKph: 12.02 }) };
    expect(answersOf(ofOperation).sentencesAt(noon)).toEqual(["wind: wind 12.02 km/h, operation allows 12"]);
    expect(answersOf({ labels: [{ gustMaxKph: 20 }], airOfHour: () => ({ gustKph: 26 }) }).sentencesAt(noon)).toEqual([
      "gust: gusts 26 km/h, label allows 20",
    ]);
  });

  test("too little wind stops a label that wants some", () => {
    const calm = { labels: [{ windMinKph: 3 }, {}], limits: asMeasured };
    expect(openMinOf({ ...calm, airOfHour: () => ({ windKph: 3 }) })).toBe(1440);
    expect(answersOf({ ...calm, airOfHour: () => ({ windKph: 2 }) }).sentencesAt(noon)).toEqual([
      "windLow: wind 2 km/h, label of Product 1 wants at least 3",
    ]);
  });

  // The helicopter releases at 6 m: ln(67.8 x 6 - 5.42) / ln(67.8 x 10 - 5.42) = 5.9949 / 6.5111 = 0.9207.
  test("the mean wind is brought to the height of release, gusts are not, and the sentence says both", () => {
    const label = { labels: [{ windMaxKph: 15, gustMaxKph: 16 }] };
    expect(openMinOf({ ...label, airOfHour: () => ({ windKph: 16.2 }) })).toBe(1440);
    expect(answersOf({ ...label, airOfHour: () => ({ windKph: 21, gustKph: 17 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 19.3 km/h at 6 m (21 at 10 m), label allows 15",
      "gust: gusts 17 km/h, label allows 16",
    ]);
    // A wind given at the height of release stays as it is, one given lower down is stronger up there.
    const given = (windHeightM: number) =>
      answersOf({ ...label, airOfHour: () => ({ windKph: 15.2, windHeightM }) }).sentencesAt(noon);
    expect(given(6)).toEqual(["wind: wind 15.2 km/h at 6 m, label allows 15"]);
    expect(given(2)).toEqual(["wind: wind 18.7 km/h at 6 m (15.2 at 2 m), label allows 15"]);
    // Too little wind is judged there, too.
    const little = answersOf({ labels: [{ windMinKph: 3 }], airOfHour: () => ({ windKph: 3.2 }) });
    expect(little.sentencesAt(noon)).toEqual(["windLow: wind 2.9 km/h at 6 m (3.2 at 10 m), label wants at least 3"]);
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
    [30, 30, ["deltaT: Delta T 12 °C, label of Product 1 allows 8"]],
    [10, 90, ["deltaT: Delta T 0.8 °C, label of Product 2 wants at least 2"]],
  ])("at %d C and %d %% a label of 2 to 8 says %j", (temperatureC, humidityPct, sentences) => {
    const labels = [{ deltaTMinC: 1, deltaTMaxC: 8 }, { deltaTMinC: 2 }];
    const { sentencesAt } = answersOf({ labels, airOfHour: () => ({ temperatureC, humidityPct }) });
    expect(sentencesAt(noon)).toEqual(sentences);
  });

  test("temperature must lie in every product's range", () => {
    const labels = [{ temperatureMinC: 5, temperatureMaxC: 28 }, { temperatureMinC: 8 }];
    expect(openMinOf({ labels, airOfHour: () => ({ temperatureC: 8 }) })).toBe(1440);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 7 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 7 °C, label of Product 2 wants at least 8",
    ]);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 28.5 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 28.5 °C, label of Product 1 allows 28",
    ]);
  });
});

test("humidity must lie in every product's range, its ends included", () => {
  const labels = [{ humidityMinPct: 40, humidityMaxPct: 95 }, { humidityMaxPct: 90 }];
  expect(openMinOf({ labels, airOfHour: () => ({ humidityPct: 90 }) })).toBe(1440);
  expect(openMinOf({ labels, airOfHour: () => ({ humidityPct: 40 }) })).toBe(1440);
  expect(answersOf({ labels, airOfHour: () => ({ humidityPct: 91 }) }).sentencesAt(noon)).toEqual([
    "humidity: humidity 91 %, label of Product 2 allows 90",
  ]);
  expect(answersOf({ labels, airOfHour: () => ({ humidityPct: 39.5 }) }).sentencesAt(noon)).toEqual([
    "humidity: humidity 39.5 %, label of Product 1 wants at least 40",
  ]);
});

describe("wet ground", () => {
  test("rain of the hours behind is summed, whole steps that reach into them, until it has passed", () => {
    // 0.1 mm at 6, 7 and 8: at 08:00 the third begins and makes 0.3; the first counts to 10:00, three hours after its end.
    const { windows, sentencesAt } = answersOf({
      days: 1,
      limits: { rainMm: 1 },
      order: { waitAfterRainMm: 0.3, waitAfterRainHours: 3 },
      airOfHour: (hour) => ({ rainMm: hour >= 6 && hour <= 8 ? 0.1 : 0 }),
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 08:00"],
      ["2027-06-07 10:00", "2027-06-08 00:00"],
    ]);
    expect(sentencesAt("2027-06-07T09:00")).toEqual(["wet: 0.3 mm of rain within 3 h, order waits from 0.3"]);
    expect(sentencesAt("2027-06-07T09:59")).toHaveLength(1);
  });

  test("an order that does not wait is not stopped, nor one after less rain", () => {
    const airOfHour = (hour: number) => ({ rainMm: hour === 6 ? 5 : 0 });
    expect(answersOf({ days: 1, airOfHour }).lostMin).toEqual({ rain: 60 });
    const waiting = answersOf({ days: 1, airOfHour, order: { waitAfterRainMm: 5, waitAfterRainHours: 12 } });
    expect(waiting.lostMin).toEqual({ rain: 60, wet: 13 * 60 });
    expect(waiting.sentencesAt("2027-06-07T10:00")).toEqual(["wet: 5 mm of rain within 12 h, order waits from 5"]);
    const more = answersOf({ days: 1, airOfHour, order: { waitAfterRainMm: 5.1, waitAfterRainHours: 12 } });
    expect(more.lostMin).toEqual({ rain: 60 });
  });
});

describe("rain", () => {
  test("counts by amount or by probability, from the limit on", () => {
    const rainAt = (air: Partial<{ rainMm: number; rainProbabilityPct: number }>) =>
      answersOf({ airOfHour: () => air }).sentencesAt(noon);
    expect(rainAt({ rainMm: 0.09, rainProbabilityPct: 49 })).toEqual([]);
    expect(rainAt({ rainMm: 0.1 })).toEqual(["rain: rain 0.1 mm, counts as rain from 0.1"]);
    expect(rainAt({ rainProbabilityPct: 50 })).toEqual(["rain: rain probability 50 %, counts as rain from 50"]);
  });

  test("work ends a rainfast period before rain and goes on after it", () => {
    const { windows, lostMin, sentencesAt } = answersOf({
      days: 1,
      labels: [{ rainfastHours: 2 }, { rainfastHours: 0.5 }],
      airOfHour: (hour) => ({ rainMm: hour === 14 ? 3 : 0 }),
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 12:00"],
      ["2027-06-07 15:00", "2027-06-08 00:00"],
    ]);
    // The last minute of the rain hour is followed by dry hours, so rain alone stops it.
    expect(lostMin).toEqual({ rain: 60, rainfast: 179 });
    expect(sentencesAt("2027-06-07T12:30")).toEqual([
      "rainfast: rain from 14:00, label wants 2 h without rain after it",
    ]);
  });

  test("a forecast that ends is no promise of dry hours", () => {
    const { windows, sentencesAt } = answersOf({
      days: 1,
      labels: [{ rainfastHours: 3 }],
      weather: (steps) => steps.slice(0, 24),
    });
    expect(windows).toEqual([["2027-06-07 00:00", "2027-06-07 21:00"]]);
    expect(sentencesAt("2027-06-07T22:00")).toEqual([
      "noForecast: no forecast from station S1 for all of the 3 h after it",
    ]);
  });
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
    expect(sentencesAt(noon)).toEqual(["bloom: wheat in bloom, bees forage from 06:34 to 20:26"]);
  });

  test("forbidden is forbidden all day, to the end of the last day in bloom", () => {
    const labels = [{ bloomRule: "outsideBeeHours" }, { bloomRule: "forbidden" }] as const;
    const { windows, sentencesAt } = answersOf({ days: 2, labels, field });
    expect(windows).toEqual([["2027-06-08 00:00", "2027-06-09 00:00"]]);
    expect(sentencesAt(noon)).toEqual(["bloom: wheat in bloom to 2027-06-07, label forbids it"]);
  });
});

describe("inversion", () => {
  // GRDC spray manual module 10 (2025), IREC Farmers' Newsletter 197 (2017): from 1-2 h before sunset to about 1 h after
  // sunrise, unless overcast, raining, or wind above 11 km/h. Sunset 21:26, so from 19:56; next sunrise 05:03, so to 06:03.
  const calmClear = { windKph: 11, cloudPct: 87 };
  const evening = ["2027-06-07 19:56", "2027-06-08 06:03"];

  test("clear calm air stops the evening, the night and the morning", () => {
    const { windows, sentencesAt } = answersOf({
      days: 2,
      labels: [{ inversionRule: "notWhenLikely" }],
      airOfHour: () => calmClear,
    });
    expect(windows).toEqual([
      ["2027-06-07 06:04", evening[0]],
      [evening[1], "2027-06-08 19:57"],
    ]);
    expect(sentencesAt("2027-06-07T22:00")).toEqual([
      "inversion: inversion likely (night or its edge, cloud 87 %, wind 11 km/h), label forbids work in a likely one",
    ]);
  });

  test.each([
    // Windy all night and clear: no step has been still, so the night is blown through.
    ["wind above 11 all night", { windKph: 11.5, cloudPct: 20 }, "none"],
    ["cloud of 88 %", { windKph: 5, cloudPct: 88 }, "possible"],
    ["wind and cloud", { windKph: 12, cloudPct: 90 }, "none"],
    ["rain", { windKph: 5, cloudPct: 20, rainMm: 1 }, "none"],
    ["calm and clear", { windKph: 5, cloudPct: 20 }, "likely"],
  ])("%s makes it %s", (_, air, risk) => {
    const lostUnder = (inversionRule: "ignore" | "notWhenLikely" | "notWhenPossible") =>
      answersOf({ days: 1, labels: [{}, { inversionRule }], airOfHour: () => air }).lostMin.inversion ?? 0;
    expect(lostUnder("ignore")).toBe(0);
    expect(lostUnder("notWhenLikely") > 0).toBe(risk === "likely");
    expect(lostUnder("notWhenPossible") > 0).toBe(risk !== "none");
  });

  test("the hours about the night are the operation's choice", () => {
    const { windows } = answersOf({
      days: 1,
      limits: { inversionHours: { startBeforeSunsetMin: 0, endAfterSunriseMin: 120 } },
      labels: [{ inversionRule: "notWhenLikely" }],
      airOfHour: () => calmClear,
    });
    expect(windows).toEqual([["2027-06-07 07:04", "2027-06-07 21:26"]]);
  });

  // Clear and windy: possible only after a still step of the same night. Sunset 21:26, so the night's hours begin at 19:56.
  test.each([
    ["wind dies at 23:00", (hour: number) => hour >= 23 && hour <= 35, ["23:00", "06:03"]],
    ["a still hour at 23:00 counts for the rest of the night", (hour: number) => hour === 23, ["23:00", "06:03"]],
    ["an hour that ends after 19:56 counts", (hour: number) => hour === 19, ["19:56", "06:03"]],
    ["an hour that ends before does not", (hour: number) => hour === 18, undefined],
    ["nor does one of the next morning, once the night is over", (hour: number) => hour === 31, undefined],
  ])("blown through: %s", (_, isStill, stopped) => {
    const { windows } = answersOf({
      days: 2,
      labels: [{ inversionRule: "notWhenPossible" }],
      // From 07:00 of the first to 12:00 of the second day.
      airOfHour: (hour) => ({ cloudPct: hour < 7 || hour > 35 ? 100 : 20, windKph: isStill(hour) ? 8 : 15 }),
    });
    const expected = stopped
      ? [
          ["2027-06-07 00:00", `2027-06-07 ${stopped[0]}`],
          [`2027-06-08 ${stopped[1]}`, "2027-06-09 00:00"],
        ]
      : [["2027-06-07 00:00", "2027-06-09 00:00"]];
    expect(windows).toEqual(expected);
  });

  // Dry adiabatic lapse rate 9.8 degrees per km: 8 m higher the air of a mixed field is 0.0784 degrees cooler.
  test.each([
    ["warmer above", 20.1, "likely"],
    ["as warm above", 20, "possible"],
    ["cooler by less than mixing makes it", 19.93, "possible"],
    ["cooler by just that", 19.9216, "none"],
    ["cooler by more", 19.5, "none"],
  ])("temperatures at two heights tell by themselves, at noon too: %s", (_, upperTemperatureC, risk) => {
    const answers = (inversionRule: "notWhenLikely" | "notWhenPossible") =>
      answersOf({
        days: 1,
        labels: [{ inversionRule }],
        // Cloud, wind and rain that would forbid an inversion by signs.
        limits: { rainMm: 1, rainProbabilityPct: 100 },
        airOfHour: () => ({
          windKph: 20,
          cloudPct: 100,
          temperatureC: 20,
          upperTemperatureC,
          upperTemperatureHeightM: 10,
        }),
      });
    const likely = answers("notWhenLikely");
    expect(likely.lostMin.inversion ?? 0).toBe(risk === "likely" ? 1440 : 0);
    expect(answers("notWhenPossible").lostMin.inversion ?? 0).toBe(risk === "none" ? 0 : 1440);
    if (risk === "likely") {
      expect(likely.sentencesAt(noon)).toEqual([
        "inversion: inversion likely (20.1 °C at 10 m over 20 °C at 2 m), label forbids work in a likely one",
      ]);
    }
  });

  test("two heights speak against the signs of the night, and in rain", () => {
    const { lostMin } = answersOf({
      days: 1,
      labels: [{ inversionRule: "notWhenPossible" }],
      airOfHour: (hour) => ({
        ...calmClear,
        rainMm: hour === 12 ? 1 : 0,
        temperatureC: 20,
        upperTemperatureC: hour === 12 ? 21 : 19,
        upperTemperatureHeightM: 10,
      }),
    });
    expect(lostMin).toEqual({ rain: 60, inversion: 60 });
  });

  test("each hour keeps its gravest level, whatever the label makes of it", () => {
    const { agronomy, order, helicopter } = answersOf({
      days: 1,
      airOfHour: (hour) => ({ windKph: 5, cloudPct: hour < 4 ? 20 : 100 }),
      weather: (steps) => steps.filter((_, hour) => hour !== 12),
    });
    const levels = agronomy.hours(order, helicopter, { night: true }).map(({ inversionRisk }) => inversionRisk);
    // To 06:04 and from 19:56; hour 12 has no forecast.
    const expected = Array.from({ length: 24 }, (_, hour) =>
      hour < 4 ? "likely" : hour <= 6 || hour >= 19 ? "possible" : hour === 12 ? "unknown" : "none",
    );
    expect(levels).toEqual(expected);
  });

  // 70 degrees north: midnight sun in June, polar night in December.
  test("a sun that stays up makes none, one that stays down makes it all day", () => {
    const north = { northDeg: 19, days: 2, airOfHour: () => calmClear };
    const labels = [{ inversionRule: "notWhenLikely" }] as const;
    expect(answersOf({ ...north, labels, firstDay: "2027-06-20" }).lostMin).toEqual({});
    expect(answersOf({ ...north, labels, firstDay: "2027-12-20" }).lostMin).toEqual({ inversion: 2880 });
  });
});

test("far north the flying day and the bees' hours are all day or never", () => {
  const north = {
    northDeg: 19,
    days: 2,
    labels: [{ bloomRule: "outsideBeeHours" }] as const,
    field: { bloom: { from: "2027-01-01", to: "2027-12-31" } },
  };
  const june = answersOf({ ...north, firstDay: "2027-06-20" });
  expect(june.lostMin).toEqual({ bloom: 2880 });
  expect(june.agronomy.windows(june.order, june.helicopter, { night: false }).lostMin).toEqual({ bloom: 2880 });
  const december = answersOf({ ...north, firstDay: "2027-12-20" });
  expect(december.lostMin).toEqual({});
  expect(december.windowsByDay).toEqual([]);
});

describe("drift", () => {
  // Hives 100 m west of the west edge, in the middle of the field's height.
  const west = rectangleField("X", { ...fieldPlace, eastM: fieldPlace.eastM - 100 }, {});
  const [lonDeg, southDeg] = (west.geometry.coordinates as number[][][])[0]![0] as [number, number];
  const northDeg = (west.geometry.coordinates as number[][][])[0]![2]![1]!;
  const hives = {
    type: "Feature" as const,
    geometry: { type: "Point" as const, coordinates: [lonDeg, (southDeg + northDeg) / 2] as [number, number] },
    properties: { id: "hives", kind: "apiary" as const, name: "Hives at the hedge" },
  };
  const drifting = (windFromDeg: number, distanceM: number, radiusM: number) =>
    answersOf({
      sensitive: [{ ...hives, properties: { ...hives.properties, radiusM } }],
      labels: [{ buffers: [{ kind: "apiary", distanceM, downwindOnly: true }] }],
      airOfHour: () => ({ windFromDeg }),
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
    const sentence = `wind from the ${from} blows towards Hives at the hedge, 100 m from the field, label wants 150 m downwind`;
    expect(drifting(windFromDeg, 150, 0)).toEqual(from === "" ? [] : [`drift: ${sentence}`]);
  });

  test("a place beyond the distance does not matter, but one that reaches into it does", () => {
    expect(drifting(90, 99, 0)).toEqual([]);
    expect(drifting(90, 99, 10)).toHaveLength(1);
  });
});

test("figures are as short as they can be and still differ", () => {
  expect(figures(21, 15)).toEqual(["21", "15"]);
  expect(figures(8.0312, 8)).toEqual(["8.03", "8"]);
  expect(figures(21.44, 15)).toEqual(["21.4", "15"]);
  expect(figures(8.0001, 8)).toEqual(["8.0001", "8"]);
});
