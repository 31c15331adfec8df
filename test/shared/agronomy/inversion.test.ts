import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";

const noon = "2027-06-07T12:00";

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
      answersOf({ days: 1, labels: [{}, { inversionRule }], knownFromHour: -24, airOfHour: () => air }).lostMin
        .inversion ?? 0;
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

  describe("a windy, clear night of which a part is not known", () => {
    const windy = { windKph: 14, cloudPct: 20 };
    const askedFor = (situation: Situation) =>
      answersOf({
        days: 1,
        labels: [{ inversionRule: "notWhenPossible" }],
        knownFromHour: -24,
        airOfHour: () => windy,
        ...situation,
      });
    const without = (...hours: number[]): Situation => ({
      knownFromHour: 0,
      // The night before is overcast and windy, so that only gaps of the evening matter.
      airOfHour: (hour) => ({ ...windy, cloudPct: hour < 12 ? 100 : 20 }),
      weather: (steps) => steps.filter((_, hour) => !hours.includes(hour)),
    });

    test("may have been still before the forecast begins", () => {
      // The night's hours began at 21:25 - 90 min = 19:55 the day before and end at 05:04 + 60 min.
      const { windows, sentencesAt } = askedFor({ knownFromHour: 0 });
      expect(windows).toEqual([["2027-06-07 06:04", "2027-06-08 00:00"]]);
      expect(sentencesAt("2027-06-07T05:30")).toEqual([
        "inversion: inversion possible (night or its edge, cloud 20 %, wind 14 km/h, no weather known for part of the night before it), label forbids work in a possible one",
      ]);
      expect(askedFor({ knownFromHour: -4 }).lostMin).toEqual({ inversion: 6 * 60 + 4 });
      // The hour from 19:00 covers 19:55.
      expect(askedFor({ knownFromHour: -5 }).lostMin).toEqual({});
    });

    test("may have been still in a gap, for the rest of it", () => {
      // The night's hours begin at 19:56.
      expect(askedFor(without(18)).lostMin).toEqual({ noForecast: 60 });
      expect(askedFor(without(19)).lostMin).toEqual({ noForecast: 60, inversion: 4 * 60 });
      expect(askedFor(without(21)).lostMin).toEqual({ noForecast: 60, inversion: 2 * 60 });
      expect(askedFor(without(21, 22)).lostMin).toEqual({ noForecast: 120, inversion: 60 });
    });

    test("may have been still in one minute", () => {
      const knownFrom = (minute: number) => {
        const { weather, ...situation } = without(19);
        return askedFor({
          ...situation,
          weather: (steps) => [
            ...weather!(steps),
            { ...steps[19]!, start: steps[19]!.start.replace("19:00", `19:${minute}`), stepMin: 60 - minute },
          ],
        }).lostMin;
      };
      expect(knownFrom(56)).toEqual({ noForecast: 56 });
      expect(knownFrom(57)).toEqual({ noForecast: 57, inversion: 4 * 60 + 3 });
    });

    test("is none under cloud, or where only a likely one counts", () => {
      expect(askedFor({ knownFromHour: 0, airOfHour: () => ({ ...windy, cloudPct: 88 }) }).lostMin).toEqual({});
      expect(askedFor({ knownFromHour: 0, labels: [{ inversionRule: "notWhenLikely" }] }).lostMin).toEqual({});
    });

    test("was still where a step says so, whatever else is not known", () => {
      const { sentencesAt } = askedFor({
        knownFromHour: 0,
        airOfHour: (hour) => ({ ...windy, windKph: hour === 3 ? 5 : 14 }),
      });
      expect(sentencesAt("2027-06-07T04:00")).toEqual([
        "inversion: inversion possible (night or its edge, cloud 20 %, wind 14 km/h, still air earlier that night), label forbids work in a possible one",
      ]);
      expect(sentencesAt("2027-06-07T03:00")).toEqual([
        "inversion: inversion likely (night or its edge, cloud 20 %, wind 5 km/h), label forbids work in a possible one",
      ]);
    });
  });

  test("a mix names the label that forbids it", () => {
    const labels = [{}, { inversionRule: "notWhenLikely" }, { inversionRule: "notWhenLikely" }] as const;
    const { sentencesAt } = answersOf({ labels, airOfHour: () => calmClear });
    expect(sentencesAt("2027-06-07T22:00")).toEqual([
      "inversion: inversion likely (night or its edge, cloud 87 %, wind 11 km/h), label of Product 2 forbids work in a likely one",
    ]);
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

  // The sun sets at the end of November and does not rise again before the middle of January.
  test("still air earlier in a polar night speaks against a clear and windy week, however long ago it was", () => {
    const stillOn = (stillHour: number | undefined) =>
      answersOf({
        northDeg: 19,
        firstDay: "2027-12-20",
        days: 2,
        knownFromHour: -40 * 24,
        labels: [{ inversionRule: "notWhenPossible" }],
        airOfHour: (hour) => ({ windKph: hour === stillHour ? 5 : 20, cloudPct: 20 }),
      });
    // Ten days before the week; in the light of the autumn; never.
    expect(stillOn(-240).lostMin).toEqual({ inversion: 2880 });
    expect(stillOn(-240).sentencesAt("2027-12-21T12:00")).toEqual([
      "inversion: inversion possible (night or its edge, cloud 20 %, wind 20 km/h, still air earlier that night), label forbids work in a possible one",
    ]);
    expect(stillOn(-36 * 24 + 12).lostMin).toEqual({});
    expect(stillOn(undefined).lostMin).toEqual({});
  });
});
