import { Body, Observer, SearchRiseSet } from "astronomy-engine";
import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";

type FlyingDay = NonNullable<NonNullable<Situation["limits"]>["flyingDay"]>;

/** 64.1 degrees north, 11 degrees east; by these clocks the sun stands lowest at 02:17, and it sets after midnight. */
const whiteNight: Situation = { northDeg: 13.1, timeZone: "Europe/Istanbul", firstDay: "2027-06-20", days: 3 };

/** Open minutes of the horizon by day. */
function flownIn(situation: Situation, flyingDay: FlyingDay) {
  const { agronomy, order, helicopter, calendar } = answersOf({ ...situation, limits: { flyingDay } });
  return { windows: agronomy.windows(order, helicopter, { night: false }).windows, calendar };
}

/** When the sun sets and rises next in the night that begins on 20 June, by astronomy-engine, in minutes of the horizon. */
function nightOf20June() {
  const { calendar } = answersOf(whiteNight);
  const observer = new Observer(64.1108, 11.0472, 0);
  const afternoon = new Date(calendar.epochMsOfMin(15 * 60));
  const [sunset, sunrise] = [-1, 1].map((direction) => SearchRiseSet(Body.Sun, observer, direction, afternoon, 1)!);
  const minOf = ({ date }: { readonly date: Date }) => (date.getTime() - calendar.epochMsOfMin(0)) / 60_000;
  return { sunsetMin: minOf(sunset!), sunriseMin: minOf(sunrise!) };
}

describe("civil twilight that lasts all night", () => {
  const { sunsetMin, sunriseMin } = nightOf20June();
  const middleMin = (sunsetMin + sunriseMin) / 2;
  /** The break of the first whole night. */
  const breakOf = (flyingDay: FlyingDay) => {
    const { windows } = flownIn(whiteNight, flyingDay);
    const next = windows.findIndex(({ startMin }) => startMin > sunsetMin && startMin < sunriseMin + 90);
    return next < 1 ? undefined : [windows[next - 1]!.endMin, windows[next]!.startMin];
  };

  test("the sun sets after midnight and is away for some hours", () => {
    expect(sunsetMin).toBeGreaterThan(1440);
    expect(sunriseMin - sunsetMin).toBeGreaterThan(120);
  });

  // Whole minutes inside the day, and half a minute for the two models of the sun.
  test.each([
    ["sunrise", "sunset", sunsetMin, sunriseMin],
    ["sunrise", "civilDusk", middleMin, sunriseMin],
    ["civilDawn", "sunset", sunsetMin, middleMin],
  ] as const)("from %s to %s there is a break in the night", (from, to, endMin, startMin) => {
    const [ended, begun] = breakOf({ from, to })!;
    expect(Math.abs(ended! - endMin)).toBeLessThan(1.5);
    expect(Math.abs(begun! - startMin)).toBeLessThan(1.5);
  });

  test("from civil dawn to civil dusk there is none, unless the day is made shorter", () => {
    const { windows, calendar } = flownIn(whiteNight, { from: "civilDawn", to: "civilDusk" });
    expect(windows).toEqual([{ startMin: 0, endMin: calendar.horizonMin }]);
    const [ended, begun] = breakOf({ from: "civilDawn", fromOffsetMin: 20, to: "civilDusk", toOffsetMin: -30 })!;
    expect(Math.abs(ended! - (middleMin - 30))).toBeLessThan(1.5);
    expect(Math.abs(begun! - (middleMin + 20))).toBeLessThan(1.5);
  });

  test("from sunrise to sunset lies within from sunrise to civil dusk, all through the weeks of white nights", () => {
    for (const firstDay of ["2027-05-01", "2027-05-12", "2027-05-23", "2027-07-10", "2027-07-28", "2027-08-05"]) {
      const week = { ...whiteNight, firstDay, days: 9 };
      const outer = flownIn(week, { from: "sunrise", to: "civilDusk" }).windows;
      for (const { startMin, endMin } of flownIn(week, { from: "sunrise", to: "sunset" }).windows) {
        expect(
          outer.some((window) => window.startMin <= startMin && endMin <= window.endMin),
          `${firstDay} ${startMin}`,
        ).toBe(true);
      }
    }
  });
});

// 70 degrees north: the sun of 16 May sets the last time before midsummer.
describe("the edge of the polar day", () => {
  const may: Situation = { northDeg: 19, firstDay: "2027-05-10", days: 10 };

  test("a civil dusk that no sunrise follows is at local midnight", () => {
    const { agronomy, order, calendar } = answersOf(may);
    const courses = calendar.dates.map((_, day) => agronomy.sunOf(order.fieldId, day).horizon.kind);
    const last = courses.lastIndexOf("crosses");
    expect(courses.slice(last + 1).length).toBeGreaterThan(1);
    expect(new Set(courses.slice(last + 1))).toEqual(new Set(["above"]));
    const midnightMin = calendar.dayStartMin[last + 1]!;
    // From there the sun is up: no break, however short the flying day is made.
    const { windows } = flownIn(may, { from: "sunrise", to: "civilDusk", toOffsetMin: -40 });
    expect(windows.at(-1)!.startMin).toBeLessThan(midnightMin - 60);
    expect(windows.at(-1)!.endMin).toBe(calendar.horizonMin);
  });

  test("a sun that stays up gives all of the day, one that stays down none, whatever light bounds it", () => {
    const inDecember: Situation = { northDeg: 19, firstDay: "2027-12-20", days: 2 };
    const inJune: Situation = { northDeg: 19, firstDay: "2027-06-20", days: 2 };
    for (const from of ["sunrise", "civilDawn"] as const) {
      for (const to of ["sunset", "civilDusk"] as const) {
        const short = { fromOffsetMin: 30, toOffsetMin: -30 };
        for (const offsets of [{}, short]) {
          expect(flownIn(inJune, { from, to, ...offsets }).windows).toEqual([{ startMin: 0, endMin: 2880 }]);
        }
        if (from === "sunrise" || to === "sunset") expect(flownIn(inDecember, { from, to }).windows).toEqual([]);
      }
    }
  });
});

test("bees forage until the sun has set, whatever date it is", () => {
  const { sunsetMin } = nightOf20June();
  const of = (bloom: { from: string; to: string }) => {
    const { agronomy, order, helicopter, calendar } = answersOf({
      ...whiteNight,
      labels: [{ bloomRule: "outsideBeeHours" }],
      limits: { beeHours: { startAfterSunriseMin: 60, endBeforeSunsetMin: 5 } },
      field: { bloom },
    });
    const { windows } = agronomy.windows(order, helicopter, { night: true });
    return {
      starts: windows.map(({ startMin }) => startMin),
      sentenceAt: (min: number) => agronomy.judge(order, helicopter, min, { night: true })[0]?.sentence,
      calendar,
    };
  };
  const bloom = of({ from: "2027-06-20", to: "2027-06-22" });
  // Work may begin 5 min before the sunset, after midnight of the date whose sun it is.
  expect(bloom.starts.some((min) => Math.abs(min - (sunsetMin - 5)) < 1.5)).toBe(true);
  expect(bloom.sentenceAt(1440)).toMatch(/^wheat in bloom, bees forage from Sunday 04:\d\d to Monday 00:\d\d, label/);
  // The first minute of bloom finds bees out under the sun of the day before, the first after it none that matter.
  expect(bloom.sentenceAt(0)).toMatch(/bees forage from Saturday 04:\d\d to Sunday 00:\d\d/);
  expect(of({ from: "2027-06-20", to: "2027-06-20" }).starts).toContain(1440);
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
  expect(june.sentencesAt("2027-06-21T12:00")).toEqual([
    "bloom: wheat in bloom, bees forage all day, label forbids work then",
  ]);
  expect(june.agronomy.windows(june.order, june.helicopter, { night: false }).lostMin).toEqual({ bloom: 2880 });
  const december = answersOf({ ...north, firstDay: "2027-12-20" });
  expect(december.lostMin).toEqual({});
  expect(december.windowsByDay).toEqual([]);
});
