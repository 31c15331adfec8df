import { Body, Observer, SearchRiseSet } from "astronomy-engine";
import { describe, expect, test } from "vitest";
import { type Calendar, createCalendar } from "../../../../shared/model/calendar.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { bareWork } from "../../../support/bareWork.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";
import { blockId, nome, northernOperation, type Place, reykjavik, tromso } from "../../../support/northernOperation.ts";

type FlyingDay = Operation["settings"]["limits"]["flyingDay"];

interface Trial {
  readonly place: Place;
  readonly firstDay: string;
  readonly flyingDay?: Partial<FlyingDay>;
  readonly bloom?: { from: string; to: string };
}

/** Which of the limits of the sun a work from one minute to another breaks; the bare plan breaks other rules as well. */
function createTrial({ place, firstDay, flyingDay = {}, bloom }: Trial) {
  const { operation, block } = northernOperation(place, { firstDay, flyingDay, bloom });
  const calendar = createCalendar(operation.settings);
  const isStopped = (rule: "daylight" | "bloom", startMin: number, endMin: number): boolean => {
    const [crewId, aircraftId, tenderId, padId] = ["K1", "A1", "T1", "P1"];
    const crewDay = bareWork({ crewId, date: firstDay, aircraftId, tenderId, blockId, padId, startMin, endMin });
    const report = checkPlan(operation, { ...emptyPlan(operation, 1), blocks: [block], crewDays: [crewDay] });
    return report.breaches.some((breach) => breach.rule === rule);
  };
  return {
    at: (localDateTime: string) => calendar.minOfLocal(localDateTime),
    isDark: (startMin: number, endMin: number) => isStopped("daylight", startMin, endMin),
    hasBees: (startMin: number, endMin: number) => isStopped("bloom", startMin, endMin),
  };
}

/** Sunset of the evening before a date and the sunrise after it, by astronomy-engine, which knows nothing of us. */
function judgedNight({ latDeg, lonDeg }: Place, calendar: Calendar, date: string) {
  const observer = new Observer(latDeg + 0.002, lonDeg + 0.005, 0);
  const originMs = calendar.epochMsOfMin(0);
  const next = (direction: 1 | -1, from: Date) => SearchRiseSet(Body.Sun, observer, direction, from, 2)!.date;
  const set = next(-1, new Date(calendar.epochMsOfMin(calendar.minOfDate(date) - 6 * 60)));
  const rise = next(1, set);
  const setMin = (set.getTime() - originMs) / 60_000;
  const riseMin = (rise.getTime() - originMs) / 60_000;
  return { setMin: Math.round(setMin), riseMin: Math.round(riseMin), midwayMin: Math.round((setMin + riseMin) / 2) };
}

/** Sunset and sunrise are whole minutes within, and astronomy-engine's air bends light a little differently. */
const offMin = 3;

describe.each([nome, reykjavik])("the white night before 21 June in $name", (place) => {
  const firstDay = "2027-06-20";
  const date = "2027-06-21";
  const night = judgedNight(place, createCalendar({ ...place, firstDay, days: 4 }), date);

  test("the judge has the sun set after local midnight", () => {
    const { at } = createTrial({ place, firstDay });
    expect(night.setMin).toBeGreaterThan(at(`${date}T00:00`));
    expect(night.riseMin - night.setMin).toBeGreaterThan(120);
    expect(night.riseMin - night.setMin).toBeLessThan(180);
  });

  test("a civil day follows the other without a minute between them", () => {
    const { isDark } = createTrial({ place, firstDay, flyingDay: { from: "civilDawn", to: "civilDusk" } });
    expect(isDark(night.setMin - 120, night.riseMin + 120)).toBe(false);
    for (let min = night.midwayMin - 3; min <= night.midwayMin + 3; min++) expect(isDark(min, min + 1)).toBe(false);
  });

  test("from sunrise, the day ends midway between sunset and sunrise, not at local midnight", () => {
    const { isDark } = createTrial({ place, firstDay, flyingDay: { from: "sunrise", to: "civilDusk" } });
    expect(isDark(night.setMin - 120, night.midwayMin - offMin)).toBe(false);
    expect(isDark(night.setMin - 120, night.midwayMin + offMin)).toBe(true);
    expect(isDark(night.midwayMin + offMin, night.midwayMin + offMin + 1)).toBe(true);
    expect(isDark(night.riseMin - offMin, night.riseMin + 60)).toBe(true);
    expect(isDark(night.riseMin + offMin, night.riseMin + 60)).toBe(false);
  });

  test("to sunset, the day begins midway", () => {
    const { isDark } = createTrial({ place, firstDay, flyingDay: { from: "civilDawn", to: "sunset" } });
    expect(isDark(night.setMin - 60, night.setMin - offMin)).toBe(false);
    expect(isDark(night.setMin - 60, night.setMin + offMin)).toBe(true);
    expect(isDark(night.midwayMin - offMin, night.riseMin)).toBe(true);
    expect(isDark(night.midwayMin + offMin, night.riseMin + 60)).toBe(false);
  });

  test("what the flying day ends before dusk is left out before midway", () => {
    const flyingDay = { from: "civilDawn", fromOffsetMin: 20, to: "civilDusk", toOffsetMin: -30 } as const;
    const { isDark } = createTrial({ place, firstDay, flyingDay });
    expect(isDark(night.setMin - 60, night.midwayMin - 30 - offMin)).toBe(false);
    expect(isDark(night.setMin - 60, night.midwayMin - 30 + offMin)).toBe(true);
    expect(isDark(night.midwayMin + 20 - offMin, night.riseMin)).toBe(true);
    expect(isDark(night.midwayMin + 20 + offMin, night.riseMin)).toBe(false);
  });

  test("from sunrise to sunset the night is dark", () => {
    const { isDark } = createTrial({ place, firstDay });
    expect(isDark(night.setMin - 60, night.setMin - offMin)).toBe(false);
    expect(isDark(night.setMin - 60, night.setMin + offMin)).toBe(true);
    expect(isDark(night.riseMin - offMin, night.riseMin + 60)).toBe(true);
    expect(isDark(night.riseMin + offMin, night.riseMin + 60)).toBe(false);
  });

  // Bees are home an hour before sunset and fly an hour and a half after sunrise.
  test("bees fly until an hour before the sun sets, whatever the date is by then", () => {
    const { hasBees } = createTrial({ place, firstDay, bloom: { from: firstDay, to: date } });
    const homeMin = night.setMin - 60;
    const outMin = night.riseMin + 90;
    expect(hasBees(homeMin - offMin, homeMin - offMin + 1)).toBe(true);
    expect(hasBees(homeMin + offMin, outMin - offMin)).toBe(false);
    expect(hasBees(homeMin + offMin, outMin + offMin)).toBe(true);
  });
});

describe("bees and bloom on two dates, Nome", () => {
  const firstDay = "2027-06-20";

  // The sun of 20 June sets at about 01:47 on the 21st, the bees are home at 00:47.
  test.each([
    { bloom: { from: "2027-06-21", to: "2027-06-30" }, eve: false, after: true },
    { bloom: { from: "2027-06-01", to: "2027-06-20" }, eve: true, after: false },
    { bloom: { from: "2027-06-01", to: "2027-06-30" }, eve: true, after: true },
  ])("in bloom from $bloom.from to $bloom.to", ({ bloom, eve, after }) => {
    const { at, hasBees } = createTrial({ place: nome, firstDay, bloom });
    expect(hasBees(at("2027-06-20T23:30"), at("2027-06-21T00:00"))).toBe(eve);
    expect(hasBees(at("2027-06-21T00:00"), at("2027-06-21T00:30"))).toBe(after);
    expect(hasBees(at("2027-06-21T01:00"), at("2027-06-21T05:30"))).toBe(false);
  });

  test("work that goes on over midnight meets the bees of the date that has ended", () => {
    const { at, hasBees } = createTrial({ place: nome, firstDay, bloom: { from: "2027-06-21", to: "2027-06-21" } });
    expect(hasBees(at("2027-06-20T23:30"), at("2027-06-21T00:01"))).toBe(true);
  });
});

describe("a sun that stays up, Tromsø", () => {
  const civil = { from: "civilDawn", to: "civilDusk" } as const;

  test("every hour is day and every hour has bees", () => {
    const bloom = { from: "2027-06-20", to: "2027-06-22" };
    for (const flyingDay of [{}, civil, { from: "sunrise", to: "civilDusk" } as const]) {
      const { at, isDark, hasBees } = createTrial({ place: tromso, firstDay: "2027-06-20", flyingDay, bloom });
      expect(isDark(at("2027-06-20T20:00"), at("2027-06-21T08:00"))).toBe(false);
      for (const clock of ["00:00", "02:00", "23:59"]) {
        expect(hasBees(at(`2027-06-21T${clock}`), at(`2027-06-21T${clock}`) + 1)).toBe(true);
      }
    }
  });
});
