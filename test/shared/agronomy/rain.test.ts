import { describe, expect, test } from "vitest";
import { minuteLimits } from "../../../shared/agronomy/limits.ts";
import { answersOf, type Situation } from "./oneOrder.ts";

const noon = "2027-06-07T12:00";

describe("wet ground", () => {
  test("rain of the hours behind is summed, whole steps that reach into them, until it has passed", () => {
    // 0.1 mm at 6, 7 and 8: at 08:00 the third begins and makes 0.3; the first counts to 10:00, three hours after its end.
    const { windows, sentencesAt } = answersOf({
      days: 1,
      limits: { rainMm: 1 },
      order: { waitAfterRainMm: 0.3, waitAfterRainHours: 3 },
      knownFromHour: -3,
      airOfHour: (hour) => ({ rainMm: hour >= 6 && hour <= 8 ? 0.1 : 0 }),
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 08:00"],
      ["2027-06-07 10:00", "2027-06-08 00:00"],
    ]);
    expect(sentencesAt("2027-06-07T09:00")).toEqual(["wet: 0.3 mm of rain within 3 h, order waits from 0.3 mm"]);
    expect(sentencesAt("2027-06-07T09:59")).toHaveLength(1);
  });

  test("an order that does not wait is not stopped, nor one after less rain", () => {
    const airOfHour = (hour: number) => ({ rainMm: hour === 6 ? 5 : 0 });
    expect(answersOf({ days: 1, airOfHour }).lostMin).toEqual({ rain: 60 });
    const known = { days: 1, knownFromHour: -12, airOfHour };
    const waiting = answersOf({ ...known, order: { waitAfterRainMm: 5, waitAfterRainHours: 12 } });
    expect(waiting.lostMin).toEqual({ rain: 60, wet: 13 * 60 });
    expect(waiting.sentencesAt("2027-06-07T10:00")).toEqual(["wet: 5 mm of rain within 12 h, order waits from 5 mm"]);
    const more = answersOf({ ...known, order: { waitAfterRainMm: 5.1, waitAfterRainHours: 12 } });
    expect(more.lostMin).toEqual({ rain: 60 });
  });

  test("rain of the evening before counts", () => {
    // 2 mm from 22:00 to 23:00 of the day before; 3 h later, from 02:00 on, the ground is dry.
    const { windows } = answersOf({
      days: 1,
      order: { waitAfterRainMm: 2, waitAfterRainHours: 3 },
      knownFromHour: -24,
      airOfHour: (hour) => ({ rainMm: hour === -2 ? 2 : 0 }),
    });
    expect(windows).toEqual([["2027-06-07 02:00", "2027-06-08 00:00"]]);
  });

  test("an hour that nobody measured may have been rain, for as long as rain would count", () => {
    const waiting = { days: 1, order: { waitAfterRainMm: 5, waitAfterRainHours: 3 } };
    // Known from midnight on: the 3 h before it are known from 03:00 on. Of those before 14:00 the hour from 10:00 is not, and
    // its last minute is 3 h behind at 13:59.
    const { windows, lostMin, sentencesAt } = answersOf({
      ...waiting,
      weather: (steps) => steps.filter((_, hour) => hour !== 10),
    });
    expect(windows).toEqual([
      ["2027-06-07 03:00", "2027-06-07 10:00"],
      ["2027-06-07 14:00", "2027-06-08 00:00"],
    ]);
    expect(lostMin).toEqual({ noForecast: 60, wet: 3 * 60 + 4 * 60 });
    const sentence = "wet: weather is not known for part of the 3 h before it, order waits after rain";
    expect(sentencesAt("2027-06-07T02:59")).toEqual([sentence]);
    expect(sentencesAt("2027-06-07T13:59")).toEqual([sentence]);
    expect(answersOf({ ...waiting, knownFromHour: -3 }).lostMin).toEqual({});
    expect(answersOf({ ...waiting, knownFromHour: -2 }).lostMin).toEqual({ wet: 60 });
  });

  test("rain that is known is told before hours that are not", () => {
    const { sentencesAt } = answersOf({
      days: 1,
      order: { waitAfterRainMm: 5, waitAfterRainHours: 3 },
      airOfHour: (hour) => ({ rainMm: hour === 0 ? 6 : 0 }),
    });
    expect(sentencesAt("2027-06-07T01:30")).toEqual(["wet: 6 mm of rain within 3 h, order waits from 5 mm"]);
  });

  test("what is not known is words in the record, not a figure", () => {
    const { agronomy, order, helicopter } = answersOf({
      days: 1,
      order: { waitAfterRainMm: 5, waitAfterRainHours: 3 },
      airOfHour: (hour) => ({ rainMm: hour === 6 ? 7 : 0 }),
    });
    const record = agronomy.record(order, helicopter, { night: true });
    const worst = [1, 7].map((step) => [record.worstLimit[step], record.worstActual[step], record.worstAllowed[step]]);
    const wet = minuteLimits.indexOf("wet");
    expect(worst).toEqual([
      [wet, Number.NaN, Number.NaN],
      [wet, 7, 5],
    ]);
  });
});

describe("rain", () => {
  test("counts by amount or by probability, from the limit on", () => {
    const rainAt = (air: Partial<{ rainMm: number; rainProbabilityPct: number }>) =>
      answersOf({ airOfHour: () => air }).sentencesAt(noon);
    expect(rainAt({ rainMm: 0.09, rainProbabilityPct: 49 })).toEqual([]);
    expect(rainAt({ rainMm: 0.1 })).toEqual(["rain: rain 0.1 mm, counts as rain from 0.1 mm"]);
    expect(rainAt({ rainProbabilityPct: 50 })).toEqual(["rain: rain probability 50 %, counts as rain from 50 %"]);
  });

  /** A day in steps of so many minutes, each with the same rain. */
  const inSteps = (stepMin: number, rainMm: number, more: Omit<Situation, "weather" | "days"> = {}) =>
    answersOf({
      days: 1,
      ...more,
      weather: ([first]) =>
        Array.from({ length: 1440 / stepMin }, (_, index) => ({
          ...first!,
          start: new Date(Date.parse(first!.start) + index * stepMin * 60_000).toISOString(),
          stepMin,
          rainMm,
        })),
    });

  test.each([
    // 0.03 x 60 / 10 = 0.18 and 0.01 x 60 / 10 = 0.06 mm; 0.05 x 60 / 30 = 0.1 and 0.04 x 60 / 30 = 0.08 mm.
    [10, 0.03, ["rain: rain 0.03 mm in 10 min, 0.18 mm an hour, counts as rain from 0.1 mm"]],
    [10, 0.01, []],
    [30, 0.05, ["rain: rain 0.05 mm in 30 min, 0.1 mm an hour, counts as rain from 0.1 mm"]],
    [30, 0.04, []],
    [60, 0.1, ["rain: rain 0.1 mm, counts as rain from 0.1 mm"]],
    [60, 0.09, []],
    // All the rain of a longer one, not the third of it that an hour has.
    [180, 0.1, ["rain: rain 0.1 mm, counts as rain from 0.1 mm"]],
    [180, 0.09, []],
  ])("a step of %d min with %d mm", (stepMin, rainMm, sentences) => {
    const { sentencesAt, lostMin } = inSteps(stepMin, rainMm);
    expect(sentencesAt(noon)).toEqual(sentences);
    expect(lostMin).toEqual(sentences.length > 0 ? { rain: 1440 } : {});
  });

  test("as much as the limit is rain, whatever noise the quotient has", () => {
    // 0.03 x 60 / 2 = 0.9, which floating point makes a little less of.
    expect((0.03 * 60) / 2).toBeLessThan(0.9);
    expect(inSteps(2, 0.03, { limits: { rainMm: 0.9 } }).lostMin).toEqual({ rain: 1440 });
  });

  test("a short shower ends a rainfast period like any rain", () => {
    // 0.02 mm in the ten minutes from 12:00 are 0.12 mm an hour.
    const { windows } = answersOf({
      days: 1,
      labels: [{ rainfastHours: 2 }],
      weather: (steps) =>
        steps.flatMap((step, hour) => {
          if (hour !== 12) return [step];
          const after = new Date(Date.parse(step.start) + 10 * 60_000).toISOString();
          return [
            { ...step, stepMin: 10, rainMm: 0.02 },
            { ...step, start: after, stepMin: 50 },
          ];
        }),
    });
    expect(windows).toEqual([
      ["2027-06-07 00:00", "2027-06-07 10:00"],
      ["2027-06-07 12:10", "2027-06-08 00:00"],
    ]);
  });

  test("rain of another day is told with its day", () => {
    const rainAt = (rainHour: number) =>
      answersOf({
        labels: [{ rainfastHours: 4 }],
        airOfHour: (hour) => ({ rainMm: hour === rainHour ? 1 : 0 }),
      });
    const sentence = (from: string) => [`rainfast: rain from ${from}, label wants 4 h without rain after it`];
    // 7 June 2027 is a Monday.
    expect(rainAt(26).sentencesAt("2027-06-07T23:00")).toEqual(sentence("Tuesday 02:00"));
    expect(rainAt(26).sentencesAt("2027-06-08T00:30")).toEqual(sentence("02:00"));
    expect(rainAt(24).sentencesAt("2027-06-07T23:00")).toEqual(sentence("Tuesday 00:00"));
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
