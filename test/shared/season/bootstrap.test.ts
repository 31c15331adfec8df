import { describe, expect, it } from "vitest";
import { addDays, daysBetween } from "../../../shared/model/calendar.ts";
import { type DrawnDay, drawDays } from "../../../shared/season/bootstrap.ts";
import { createHistory } from "../../../shared/season/history.ts";
import { seattleDays, seattleSteps } from "../../support/dailyWeather.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const history = createHistory(seattleSteps(), "UTC");
const days = seattleDays();
const choice = { meanRunDays: 3, windowDays: 15 };

/** So many years of dates, drawn year by year. */
function drawYears(years: number, seed: number, run = choice): DrawnDay[][] {
  const random = seededRandom(seed);
  return Array.from({ length: years }, (_, year) => {
    // 2013 to 2016 again and again, so that leap years come.
    const first = `${2013 + (year % 4)}-01-01`;
    const dates = Array.from({ length: daysBetween(first, `${2014 + (year % 4)}-01-01`) }, (_, at) =>
      addDays(first, at),
    );
    return drawDays(history, dates, run, random);
  });
}

const dayAt = (day: number) => days[day]!;
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Days from one calendar day to another, whatever the years, the shorter way round. */
function calendarDays(from: string, to: string): number {
  const between = [-1, 0, 1].map((years) =>
    Math.abs(daysBetween(from, `${Number(from.slice(0, 4)) + years}${to.slice(4)}`)),
  );
  return Math.min(...between);
}

describe("the stationary bootstrap on days", () => {
  it("has every day of the real file", () => {
    expect(history.days.map(({ date }) => date)).toEqual(days.map(({ date }) => date));
    expect(history.gaps).toEqual([]);
  });

  it("draws from the window about each date", () => {
    const distances = drawYears(8, 1)
      .flat()
      .map(({ date, day }) => calendarDays(date, dayAt(day).date));
    // A 29 February may lie between: one more by this count.
    expect(Math.max(...distances)).toBeLessThanOrEqual(choice.windowDays + 1);
    expect(Math.max(...distances)).toBeGreaterThanOrEqual(choice.windowDays);
  });

  it("goes on with the next day of the history until a run ends", () => {
    for (const drawn of drawYears(4, 2)) {
      for (const [at, { day, beginsRun }] of drawn.entries()) {
        if (!beginsRun) expect(day).toBe(drawn[at - 1]!.day + 1);
      }
      expect(drawn[0]!.beginsRun).toBe(true);
    }
  });

  // Politis & Romano, The stationary bootstrap, JASA 89 (1994), 1303-1313, section 2: lengths L with P(L = m) = (1 - p)^(m - 1) p, mean 1 / p.
  it.each([2, 3, 5])("has runs of geometric length, mean %d days", (meanRunDays) => {
    const lengths: number[] = [];
    for (const drawn of drawYears(40, 3, { ...choice, meanRunDays })) {
      const begins = drawn.flatMap(({ beginsRun }, at) => (beginsRun ? [at] : []));
      // The last run of a year is cut short by its end.
      lengths.push(...begins.slice(1).map((begin, at) => begin - begins[at]!));
    }
    expect(lengths.length).toBeGreaterThan(2700);
    // Four standard errors of a geometric mean, and 1 % for runs that end where the history does.
    const errorDays = Math.sqrt((meanRunDays ** 2 - meanRunDays) / lengths.length);
    expect(Math.abs(mean(lengths) - meanRunDays)).toBeLessThan(4 * errorDays + 0.01 * meanRunDays);
    const ends = 1 / meanRunDays;
    for (let length = 1; length <= 6; length++) {
      const share = lengths.filter((other) => other === length).length / lengths.length;
      expect(Math.abs(share - (1 - ends) ** (length - 1) * ends)).toBeLessThan(0.012);
    }
  });

  it("draws each day alike: the means by month are those of the real file", () => {
    const drawn = drawYears(100, 4, { meanRunDays: 3, windowDays: 7 }).flat();
    for (let month = 1; month <= 12; month++) {
      const isOf = ({ date }: { date: string }) => Number(date.slice(5, 7)) === month;
      const measured = days.filter(isOf);
      const sampled = drawn.filter(isOf).map(({ day }) => dayAt(day));
      const means = (of: readonly (typeof measured)[number][]) => ({
        temperatureC: mean(of.map(({ temperatureC }) => temperatureC)),
        windKph: mean(of.map(({ windKph }) => windKph)),
        rainMm: mean(of.map(({ rainMm }) => rainMm)),
      });
      const [real, drawnMeans] = [means(measured), means(sampled)];
      // A window of a week either side smooths the year's course by up to half a degree.
      expect(Math.abs(drawnMeans.temperatureC - real.temperatureC), `${month}`).toBeLessThan(0.5);
      expect(Math.abs(drawnMeans.windKph - real.windKph), `${month}`).toBeLessThan(0.6);
      expect(Math.abs(drawnMeans.rainMm - real.rainMm), `${month}`).toBeLessThan(0.25 + 0.12 * real.rainMm);
    }
  });

  it("keeps of the real file's memory from day to day what the runs keep", () => {
    const usualC = Array.from({ length: 12 }, (_, month) =>
      mean(days.filter(({ date }) => Number(date.slice(5, 7)) === month + 1).map(({ temperatureC }) => temperatureC)),
    );
    const oddC = days.map(({ date, temperatureC }) => temperatureC - usualC[Number(date.slice(5, 7)) - 1]!);
    const memory = (course: readonly number[]) => {
      const square = mean(course.map((value) => value ** 2));
      return mean(course.slice(1).map((value, at) => value * course[at]!)) / square;
    };
    const meanRunDays = 3;
    const sampled = drawYears(60, 5, { meanRunDays, windowDays: 10 }).map((year) =>
      memory(year.map(({ day }) => oddC[day]!)),
    );
    // Two days in a row are neighbours in the file with probability 1 - p, else drawn apart (Politis & Romano 1994, lemma 1: the k-th autocovariance counts (1 - p)^k).
    const expected = (1 - 1 / meanRunDays) * memory(oddC);
    expect(memory(oddC)).toBeGreaterThan(0.6);
    expect(Math.abs(mean(sampled) - expected)).toBeLessThan(0.05);
  });

  it("makes the same of the same seed, and takes two numbers of chance a day", () => {
    expect(drawYears(2, 6)).toEqual(drawYears(2, 6));
    expect(drawYears(2, 6)).not.toEqual(drawYears(2, 7));
    let taken = 0;
    const counted = () => {
      taken++;
      return 0.5;
    };
    drawDays(history, ["2027-06-07", "2027-06-08", "2027-06-09"], choice, counted);
    expect(taken).toBe(6);
  });

  it("ends a run where the history has a hole", () => {
    const holed = createHistory(
      seattleSteps().filter(({ start }) => start.startsWith("2013-06-0") || start.startsWith("2013-06-2")),
      "UTC",
    );
    expect(holed.gaps).toHaveLength(1);
    // No run ends by chance, and the ninth is the last day before the hole that the first of them can draw.
    const drawn = drawDays(
      holed,
      ["2027-06-05", "2027-06-06", "2027-06-07"],
      { meanRunDays: 3, windowDays: 3 },
      () => 0.999,
    );
    expect(drawn.map(({ day, beginsRun }) => [holed.days[day]!.date, beginsRun])).toEqual([
      ["2013-06-08", true],
      ["2013-06-09", false],
      ["2013-06-09", true],
    ]);
  });

  it("leaves out a date that the history says nothing about, and begins anew after it", () => {
    const juneAndAugust = createHistory(
      seattleSteps().filter(({ start }) => ["06", "08"].includes(start.slice(5, 7))),
      "UTC",
    );
    const dates = Array.from({ length: 40 }, (_, day) => addDays("2027-06-25", day));
    const drawn = drawDays(juneAndAugust, dates, { meanRunDays: 60, windowDays: 3 }, () => 0.5);
    // Up to 3 July, and from 29 July on.
    expect(drawn.map(({ date }) => date)).toEqual([...dates.slice(0, 9), ...dates.slice(34)]);
    expect(drawn[9]!.beginsRun).toBe(true);
  });
});
