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
  test("as much as a limit is allowed, more is not, and the strictest of label, aircraft and operation rules", () => {
    const label = { labels: [{ windMaxKph: 15 }, { windMaxKph: 18 }] };
    expect(openMinOf({ ...label, airOfHour: () => ({ windKph: 15 }) })).toBe(1440);
    expect(answersOf({ ...label, airOfHour: () => ({ windKph: 21 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 21 km/h, label allows 15",
    ]);
    expect(answersOf({ airOfHour: () => ({ windKph: 31 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 31 km/h, aircraft allows 30",
    ]);
    expect(answersOf({ limits: { windMaxKph: 12 }, airOfHour: () => ({ windKph: 12.02 }) }).sentencesAt(noon)).toEqual([
      "wind: wind 12.02 km/h, operation allows 12",
    ]);
    expect(answersOf({ labels: [{ gustMaxKph: 20 }], airOfHour: () => ({ gustKph: 26 }) }).sentencesAt(noon)).toEqual([
      "gust: gusts 26 km/h, label allows 20",
    ]);
  });

  test("too little wind stops a label that wants some", () => {
    const labels = [{ windMinKph: 3 }, {}];
    expect(openMinOf({ labels, airOfHour: () => ({ windKph: 3 }) })).toBe(1440);
    expect(answersOf({ labels, airOfHour: () => ({ windKph: 2 }) }).sentencesAt(noon)).toEqual([
      "windLow: wind 2 km/h, label wants at least 3",
    ]);
  });

  test("only the hour with the wind is lost", () => {
    const { windows, lostMin } = answersOf({
      days: 1,
      labels: [{ windMaxKph: 15 }],
      airOfHour: (hour) => ({ windKph: hour === 9 ? 16 : 10 }),
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
    [30, 30, ["deltaT: Delta T 12 °C, label allows 8"]],
    [10, 90, ["deltaT: Delta T 0.8 °C, label wants at least 2"]],
  ])("at %d C and %d %% a label of 2 to 8 says %j", (temperatureC, humidityPct, sentences) => {
    const labels = [{ deltaTMinC: 1, deltaTMaxC: 8 }, { deltaTMinC: 2 }];
    const { sentencesAt } = answersOf({ labels, airOfHour: () => ({ temperatureC, humidityPct }) });
    expect(sentencesAt(noon)).toEqual(sentences);
  });

  test("temperature must lie in every product's range", () => {
    const labels = [{ temperatureMinC: 5, temperatureMaxC: 28 }, { temperatureMinC: 8 }];
    expect(openMinOf({ labels, airOfHour: () => ({ temperatureC: 8 }) })).toBe(1440);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 7 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 7 °C, label wants at least 8",
    ]);
    expect(answersOf({ labels, airOfHour: () => ({ temperatureC: 28.5 }) }).sentencesAt(noon)).toEqual([
      "temperature: temperature 28.5 °C, label allows 28",
    ]);
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
    ["wind above 11", { windKph: 11.5, cloudPct: 20 }, "possible"],
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

  test.each([
    [90, "east"],
    [45, "north-east"],
    [135, "south-east"],
    [44, ""],
    [136, ""],
    [270, ""],
  ])("wind from %d degrees blows at the hives in the west: %s", (windFromDeg, from) => {
    const sentence = `wind from the ${from} blows towards Hives at the hedge, 100 m to the west, label wants 150 m downwind`;
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
