import { describe, expect, test } from "vitest";
import type { SunCourse } from "../../../../shared/agronomy/sun.ts";
import { addDays } from "../../../../shared/model/calendar.ts";
import type { WeatherStep } from "../../../../shared/model/weather.ts";
import { type Facts, gatherFacts } from "../../../../shared/plan/check/facts.ts";
import { checkInversion } from "../../../../shared/plan/check/inversion.ts";
import { Ledger } from "../../../../shared/plan/check/report.ts";
import type { Sky, Step } from "../../../../shared/plan/check/sky.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

const hour = 60;
const day = 24 * hour;
const above: SunCourse = { kind: "above" };
const below: SunCourse = { kind: "below" };

function risen(facts: Facts, date: string, upHour: number, downHour: number): SunCourse {
  const midnightMin = facts.calendar.minOfDate(date);
  return { kind: "crosses", upMin: midnightMin + upHour * hour, downMin: midnightMin + downHour * hour };
}

/** Sunrise at 06:00 and sunset at 18:00. */
function equinox(facts: Facts, date: string): SunCourse {
  return risen(facts, date, 6, 18);
}

interface Case {
  readonly rule: "notWhenLikely" | "notWhenPossible";
  readonly fromMin: number;
  readonly toMin: number;
  /** Hourly weather by hour since local midnight of the first day; null where there is none. */
  readonly air: (hour: number) => Partial<WeatherStep> | null;
  readonly firstHour?: number;
  readonly sun?: (facts: Facts, date: string) => SunCourse;
  readonly hours?: { startBeforeSunsetMin: number; endAfterSunriseMin: number };
}

const windy = { windKph: 20, cloudPct: 100 };

/** What the rule finds for a work from one minute to another; undefined when it finds nothing. */
function foundIn({
  rule,
  fromMin,
  toMin,
  air,
  firstHour = -24,
  sun = equinox,
  hours,
}: Case): string | number | undefined {
  const operation = richOperation();
  if (hours !== undefined) operation.settings.limits.inversionHours = hours;
  for (const product of operation.products) product.inversionRule = rule;
  const facts = gatherFacts(operation, richPlan(operation));
  const template = operation.weather[0]!;
  const steps = Array.from({ length: 4 * 24 - firstHour }, (_, index) => index + firstHour).flatMap((at): Step[] => {
    const given = air(at);
    if (given === null) return [];
    return [
      {
        fromMin: at * hour,
        toMin: (at + 1) * hour,
        step: { ...template, ...windy, ...given },
        isRain: given.rainMm !== undefined,
        deltaTC: () => 4,
      },
    ];
  });
  const sky: Sky = {
    sun: (_, date) => ({ horizon: sun(facts, date), civil: sun(facts, date) }),
    steps: () => steps,
  };
  const touched = steps.filter((step) => step.fromMin < toMin && fromMin < step.toMin);
  const ledger = new Ledger();
  checkInversion(facts, ledger, sky, facts.stops[0]!, { fromMin, toMin }, touched);
  return ledger.report().breaches[0]?.actual;
}

describe("hours from before sunset to after sunrise", () => {
  const calm = () => ({ windKph: 5, cloudPct: 0 });
  const rule = "notWhenLikely";

  // Sunset 18:00 less 90 min is 16:30; sunrise 06:00 and 60 min is 07:00.
  test.each([
    { fromMin: 15 * hour, toMin: 16.5 * hour, expected: undefined },
    { fromMin: 15 * hour, toMin: 16.5 * hour + 1, expected: "likely" },
    { fromMin: 7 * hour, toMin: 9 * hour, expected: undefined },
    { fromMin: 7 * hour - 1, toMin: 9 * hour, expected: "likely" },
  ])("work from minute $fromMin to $toMin: $expected", ({ fromMin, toMin, expected }) => {
    expect(foundIn({ rule, fromMin, toMin, air: calm })).toBe(expected);
  });

  test("as the settings have them", () => {
    const hours = { startBeforeSunsetMin: 30, endAfterSunriseMin: 120 };
    expect(foundIn({ rule, fromMin: 15 * hour, toMin: 17.5 * hour, air: calm, hours })).toBeUndefined();
    expect(foundIn({ rule, fromMin: 15 * hour, toMin: 17.5 * hour + 1, air: calm, hours })).toBe("likely");
    expect(foundIn({ rule, fromMin: 8 * hour, toMin: 9 * hour, air: calm, hours })).toBeUndefined();
    expect(foundIn({ rule, fromMin: 8 * hour - 1, toMin: 9 * hour, air: calm, hours })).toBe("likely");
  });

  test("the last night before the sun stays up ends after local midnight", () => {
    const sun = (facts: Facts, date: string) => (date <= facts.calendar.dates[0]! ? risen(facts, date, 1, 23) : above);
    expect(foundIn({ rule, fromMin: day + hour, toMin: day + 5 * hour, air: calm, sun })).toBeUndefined();
    expect(foundIn({ rule, fromMin: day + hour - 1, toMin: day + 5 * hour, air: calm, sun })).toBe("likely");
    expect(foundIn({ rule, fromMin: 2 * day, toMin: 2 * day + hour, air: calm, sun })).toBeUndefined();
  });

  test("a sun that stays down keeps the night going, until it rises again", () => {
    const sun = (facts: Facts, date: string) =>
      date < facts.calendar.dates[0]! || date > facts.calendar.dates[1]! ? equinox(facts, date) : below;
    const noonMin = day + 12 * hour;
    expect(foundIn({ rule, fromMin: noonMin, toMin: noonMin + 30, air: calm, sun })).toBe("likely");
    const endMin = 2 * day + 7 * hour;
    expect(foundIn({ rule, fromMin: endMin, toMin: endMin + hour, air: calm, sun })).toBeUndefined();
    expect(foundIn({ rule, fromMin: endMin - 1, toMin: endMin + hour, air: calm, sun })).toBe("likely");
  });
});

describe("signs in those hours", () => {
  const at = { fromMin: 20 * hour, toMin: 20 * hour + 30 };

  test.each([
    { cloudPct: 87.9, windKph: 11, likely: "likely", possible: "likely" },
    { cloudPct: 88, windKph: 11, likely: undefined, possible: "possible" },
    { cloudPct: 88, windKph: 11.1, likely: undefined, possible: undefined },
    { cloudPct: 0, windKph: 11.1, likely: undefined, possible: undefined },
    { cloudPct: 0, windKph: 5, rainMm: 1, likely: undefined, possible: undefined },
  ])("cloud $cloudPct %, wind $windKph km/h after a windy evening", ({ likely, possible, ...weather }) => {
    const air = (clock: number) => (clock === 20 ? weather : {});
    expect(foundIn({ rule: "notWhenLikely", ...at, air })).toBe(likely);
    expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBe(possible);
  });

  // Clear and windy at 20:00; these hours began at 16:30 and touch the step of 16:00.
  test.each([
    { stillAt: 15, expected: undefined },
    { stillAt: 16, expected: "possible" },
    { stillAt: 19, expected: "possible" },
    { stillAt: 21, expected: undefined },
  ])("clear and windy, still only at $stillAt o'clock: $expected", ({ stillAt, expected }) => {
    const air = (clock: number) =>
      clock === 20 ? { cloudPct: 10 } : clock === stillAt ? { windKph: 11 } : { windKph: 11.1 };
    expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBe(expected);
  });

  test("still in the night before is forgotten by the next evening", () => {
    const air = (clock: number) => (clock === 3 ? { windKph: 2 } : clock === 20 ? { cloudPct: 10 } : {});
    expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBeUndefined();
  });

  test("but not when the hours of the two nights meet", () => {
    const air = (clock: number) => (clock === 3 ? { windKph: 2 } : clock === 20 ? { cloudPct: 10 } : {});
    // Sunrise at 06:00 and 5 h is 11:00; sunset at 16:00 less 5 h is 11:00.
    const hours = { startBeforeSunsetMin: 300, endAfterSunriseMin: 300 };
    const sun = (downHour: number) => (facts: Facts, date: string) =>
      date < facts.calendar.dates[0]! ? above : risen(facts, date, 6, downHour);
    // The sun stays up until the first day: its night begins at 11:00.
    expect(foundIn({ rule: "notWhenPossible", ...at, air, hours, sun: sun(16) })).toBeUndefined();
    const nextDay = (clock: number) => air(clock - 24);
    const later = { fromMin: at.fromMin + day, toMin: at.toMin + day };
    expect(foundIn({ rule: "notWhenPossible", ...later, air: nextDay, hours, sun: sun(16) })).toBe("possible");
    expect(foundIn({ rule: "notWhenPossible", ...later, air: nextDay, hours, sun: sun(16.02) })).toBeUndefined();
  });

  test("nor when they have met for many days", () => {
    const hours = { startBeforeSunsetMin: 300, endAfterSunriseMin: 300 };
    // The sun stays up until ten days before the first; on that day the hours begin at 11:00, and from then on they meet.
    const sun = (facts: Facts, date: string) =>
      date < addDays(facts.calendar.dates[0]!, -10) ? above : risen(facts, date, 6, 16);
    const beganAt = -10 * 24 + 11;
    const airWith = (at: number, there: Partial<WeatherStep> | null) => (clock: number) =>
      clock === at ? there : clock === 20 ? { cloudPct: 10 } : {};
    const risk = (stepAt: number, there: Partial<WeatherStep> | null) =>
      foundIn({ rule: "notWhenPossible", ...at, air: airWith(stepAt, there), firstHour: -11 * 24, hours, sun });
    for (const there of [{ windKph: 2 }, null]) {
      expect(risk(beganAt - 1, there)).toBeUndefined();
      for (const stepAt of [beganAt, beganAt + 24, -60, 3, 19]) expect(risk(stepAt, there)).toBe("possible");
      expect(risk(21, there)).toBeUndefined();
    }
  });

  test("and are followed back no further than 366 days where they never break", () => {
    const hours = { startBeforeSunsetMin: 300, endAfterSunriseMin: 300 };
    const sun = (facts: Facts, date: string) => risen(facts, date, 6, 16);
    const beganAt = -366 * 24 + 11;
    const risk = (stillAt: number) => {
      const air = (clock: number) => (clock === stillAt ? { windKph: 2 } : clock === 20 ? { cloudPct: 10 } : {});
      return foundIn({ rule: "notWhenPossible", ...at, air, firstHour: -368 * 24, hours, sun });
    };
    expect(risk(beganAt - 1)).toBeUndefined();
    expect(risk(beganAt)).toBe("possible");
  });

  // Clear and windy at 20:00 after wind in every step; these hours began at 16:30.
  test.each([
    { gapAt: 15, expected: undefined },
    { gapAt: 16, expected: "possible" },
    { gapAt: 18, expected: "possible" },
    { gapAt: 19, expected: "possible" },
    { gapAt: 21, expected: undefined },
  ])("no step at $gapAt o'clock: $expected", ({ gapAt, expected }) => {
    const air = (clock: number) => (clock === gapAt ? null : clock === 20 ? { cloudPct: 10 } : {});
    expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBe(expected);
    expect(foundIn({ rule: "notWhenLikely", ...at, air })).toBeUndefined();
  });

  test("weather that begins after these hours did tells nothing of their beginning", () => {
    const air = (clock: number) => (clock === 20 ? { cloudPct: 10 } : {});
    expect(foundIn({ rule: "notWhenPossible", ...at, air, firstHour: 16 })).toBeUndefined();
    expect(foundIn({ rule: "notWhenPossible", ...at, air, firstHour: 17 })).toBe("possible");
  });

  test("neither clear nor still is none, whatever is not known", () => {
    expect(foundIn({ rule: "notWhenPossible", ...at, air: () => ({}), firstHour: 20 })).toBeUndefined();
  });

  test("a gap in the hours of a work that began in the wind", () => {
    const long = { fromMin: 20 * hour, toMin: 22 * hour };
    const air = (clock: number) => (clock === 21 ? null : { cloudPct: 10 });
    expect(foundIn({ rule: "notWhenPossible", ...long, air })).toBeUndefined();
    expect(foundIn({ rule: "notWhenPossible", ...long, toMin: 23 * hour, air })).toBe("possible");
  });

  test("still under rain counts as still", () => {
    const air = (clock: number) => (clock === 18 ? { windKph: 2, rainMm: 1 } : clock === 20 ? { cloudPct: 10 } : {});
    expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBe("possible");
  });
});

describe("two heights of air, at noon", () => {
  const at = { fromMin: 12 * hour, toMin: 12 * hour + 30 };

  // From 2 to 12 m mixed air cools by 10 x 0.0098 = 0.098 °C.
  test.each([
    { upperTemperatureC: 20.1, likely: "likely", possible: "likely" },
    { upperTemperatureC: 20, likely: undefined, possible: "possible" },
    { upperTemperatureC: 19.903, likely: undefined, possible: "possible" },
    { upperTemperatureC: 19.902, likely: undefined, possible: undefined },
    { upperTemperatureC: 19, likely: undefined, possible: undefined },
  ])("$upperTemperatureC °C at 12 m over 20 °C at 2 m", ({ upperTemperatureC, likely, possible }) => {
    const heights = { temperatureC: 20, temperatureHeightM: 2, upperTemperatureC, upperTemperatureHeightM: 12 };
    for (const other of [{}, { rainMm: 2 }, { windKph: 30, cloudPct: 100 }]) {
      const air = () => ({ ...heights, ...other });
      expect(foundIn({ rule: "notWhenLikely", ...at, air })).toBe(likely);
      expect(foundIn({ rule: "notWhenPossible", ...at, air })).toBe(possible);
    }
  });

  test("they tell against the signs, too", () => {
    const mixed = { temperatureC: 20, upperTemperatureC: 19, upperTemperatureHeightM: 12 };
    const air = () => ({ windKph: 0, cloudPct: 0, ...mixed });
    expect(foundIn({ rule: "notWhenPossible", fromMin: 20 * hour, toMin: 21 * hour, air })).toBeUndefined();
  });
});
