import { expect, test } from "vitest";
import type { SunCourse } from "../../../../shared/agronomy/sun.ts";
import { daysBetween } from "../../../../shared/model/calendar.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkCalendarLimits } from "../../../../shared/plan/check/calendarLimits.ts";
import { gatherFacts } from "../../../../shared/plan/check/facts.ts";
import { Ledger } from "../../../../shared/plan/check/report.ts";
import type { Sky } from "../../../../shared/plan/check/sky.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

type FlyingDay = Operation["settings"]["limits"]["flyingDay"];

const hour = 60;
const day = 24 * hour;
const above: SunCourse = { kind: "above" };
const below: SunCourse = { kind: "below" };
const up = (fromMin: number, toMin: number): SunCourse => ({ kind: "crosses", upMin: fromMin, downMin: toMin });
/** Sets at 23:00 and rises at 03:00: the night turns at 01:00. */
const plain = (firstMin: number) => up(firstMin + 3 * hour, firstMin + 23 * hour);

/** Whether a work is outside the flying day under horizons given by day, -1 being the day before the first; twilight lasts all night. */
function isDark(
  horizons: (dayIndex: number) => SunCourse,
  flyingDay: Partial<FlyingDay>,
  startMin: number,
  endMin: number,
): boolean {
  const operation = richOperation();
  const { limits } = operation.settings;
  limits.flyingDay = { ...limits.flyingDay, ...flyingDay };
  const plan = richPlan(operation);
  const crewDay = plan.crewDays[0]!;
  const work = crewDay.activities.find((activity) => activity.kind === "work")!;
  const only = { ...crewDay, activities: [{ ...work, startMin, endMin }] };
  const facts = gatherFacts(operation, { ...plan, crewDays: [only] });
  const sky: Sky = {
    sun: (_, date) => ({
      horizon: horizons(daysBetween(operation.settings.firstDay, date)),
      civil: above,
    }),
    steps: () => [],
  };
  const ledger = new Ledger();
  checkCalendarLimits(facts, ledger, sky);
  return ledger.report().breaches.some(({ rule }) => rule === "daylight");
}

const toDusk = { from: "sunrise", to: "civilDusk" } as const;
const fromDawn = { from: "civilDawn", to: "sunset" } as const;
const civil = { from: "civilDawn", to: "civilDusk" } as const;
const plainDays = (index: number) => plain(index * day);
const turnsMin = day + hour;

test("dusk and the next dawn are both midway", () => {
  expect(isDark(plainDays, toDusk, turnsMin - 60, turnsMin)).toBe(false);
  expect(isDark(plainDays, toDusk, turnsMin - 60, turnsMin + 1)).toBe(true);
  expect(isDark(plainDays, fromDawn, turnsMin, turnsMin + 60)).toBe(false);
  expect(isDark(plainDays, fromDawn, turnsMin - 1, turnsMin + 60)).toBe(true);
  expect(isDark(plainDays, civil, turnsMin - 60, turnsMin + 60)).toBe(false);
});

test("midway within a minute: dusk and dawn alone leave it out, both together hold it", () => {
  // Sets at 23:00, rises at 03:01.
  const uneven = (index: number) => up(index * day + 3 * hour + 1, index * day + 23 * hour);
  expect(isDark(uneven, toDusk, turnsMin - 60, turnsMin)).toBe(false);
  expect(isDark(uneven, toDusk, turnsMin, turnsMin + 1)).toBe(true);
  expect(isDark(uneven, fromDawn, turnsMin, turnsMin + 1)).toBe(true);
  expect(isDark(uneven, fromDawn, turnsMin + 1, turnsMin + 60)).toBe(false);
  expect(isDark(uneven, civil, turnsMin - 60, turnsMin + 60)).toBe(false);
});

test("offsets count from there", () => {
  const short = { ...civil, fromOffsetMin: 15, toOffsetMin: -10 };
  expect(isDark(plainDays, short, turnsMin - 60, turnsMin - 10)).toBe(false);
  expect(isDark(plainDays, short, turnsMin - 10, turnsMin - 9)).toBe(true);
  expect(isDark(plainDays, short, turnsMin + 14, turnsMin + 15)).toBe(true);
  expect(isDark(plainDays, short, turnsMin + 15, turnsMin + 60)).toBe(false);
  const long = { ...toDusk, toOffsetMin: 30 };
  expect(isDark(plainDays, long, turnsMin, turnsMin + 30)).toBe(false);
  expect(isDark(plainDays, long, turnsMin, turnsMin + 31)).toBe(true);
});

test("local midnight where the sun does not rise again, or has not set", () => {
  const staysDown = (index: number) => (index <= 0 ? plain(index * day) : below);
  expect(isDark(staysDown, toDusk, day - 60, day)).toBe(false);
  expect(isDark(staysDown, toDusk, day, day + 1)).toBe(true);
  const wasDown = (index: number) => (index <= 0 ? below : plain(index * day));
  expect(isDark(wasDown, fromDawn, day, day + 60)).toBe(false);
  expect(isDark(wasDown, fromDawn, day - 1, day)).toBe(true);
  // A sun that stays up goes on where the dusk is cut, and leaves no gap before a dawn.
  const staysUp = (index: number) => (index <= 0 ? plain(index * day) : above);
  const wasUp = (index: number) => (index <= 0 ? above : plain(index * day));
  for (const flyingDay of [civil, toDusk]) expect(isDark(staysUp, flyingDay, day - 60, day + 60)).toBe(false);
  for (const flyingDay of [civil, fromDawn]) expect(isDark(wasUp, flyingDay, day - 60, day + 60)).toBe(false);
  // From sunrise it has to rise first.
  expect(isDark(wasUp, toDusk, day - 60, day)).toBe(false);
  expect(isDark(wasUp, toDusk, day, day + 1)).toBe(true);
});

test("offsets do not count from local midnight, nor while a sun stays up", () => {
  const staysUp = (index: number) => (index <= 0 ? plain(index * day) : above);
  const wasUp = (index: number) => (index <= 0 ? above : plain(index * day));
  const short = { fromOffsetMin: 20, toOffsetMin: -30 };
  for (const events of [civil, toDusk])
    expect(isDark(staysUp, { ...events, ...short }, day - 60, day + 60)).toBe(false);
  for (const events of [civil, fromDawn])
    expect(isDark(wasUp, { ...events, ...short }, day - 60, day + 60)).toBe(false);
  for (const events of [civil, toDusk, fromDawn]) {
    expect(isDark(() => above, { ...events, ...short }, day - 60, day + 60)).toBe(false);
  }
  const staysDown = (index: number) => (index <= 0 ? plain(index * day) : below);
  expect(isDark(staysDown, { ...toDusk, toOffsetMin: 30 }, day, day + 1)).toBe(true);
  expect(isDark(staysDown, { ...toDusk, toOffsetMin: -30 }, day - 1, day)).toBe(false);
});
