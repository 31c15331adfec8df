import { describe, expect, it } from "vitest";
import { createHistory } from "../../../shared/season/history.ts";
import { plainStep, seattleDays, seattleSteps } from "../../support/dailyWeather.ts";

/** Hourly steps of whole local days in Madrid's summer, two hours before UTC. */
function hours(fromUtc: string, count: number, stationId = "S") {
  return Array.from({ length: count }, (_, hour) =>
    plainStep(new Date(Date.parse(fromUtc) + hour * 3_600_000).toISOString().replace(".000Z", "Z"), 60, stationId),
  );
}

describe("a history", () => {
  it("is cut into local days, each with its steps by the day's clock", () => {
    const { days, gaps, leftOut } = createHistory(hours("2026-06-30T22:00:00Z", 48), "Europe/Madrid");
    expect(days.map(({ date, steps }) => [date, steps.length])).toEqual([
      ["2026-07-01", 24],
      ["2026-07-02", 24],
    ]);
    expect(days[1]!.steps.map(({ fromClockMin }) => fromClockMin)).toEqual(
      Array.from({ length: 24 }, (_, h) => h * 60),
    );
    expect(days[1]!.steps[23]!.toClockMin).toBe(1440);
    expect([gaps, leftOut]).toEqual([[], []]);
  });

  it("tells of gaps and of days that are not whole, and draws none of them", () => {
    const steps = hours("2026-06-30T22:00:00Z", 96).filter(({ start }) => start !== "2026-07-02T10:00:00Z");
    const { days, gaps, leftOut } = createHistory(steps, "Europe/Madrid");
    expect(days.map(({ date }) => date)).toEqual(["2026-07-01", "2026-07-03", "2026-07-04"]);
    expect(gaps).toEqual([{ stationId: "S", from: "2026-07-02T12:00:00+02:00", to: "2026-07-02T13:00:00+02:00" }]);
    expect(leftOut).toEqual([{ date: "2026-07-02", reason: "not all of the day from S" }]);
  });

  it("asks every station for every minute of a day", () => {
    const steps = [...hours("2026-06-30T22:00:00Z", 72), ...hours("2026-07-01T22:00:00Z", 30, "T")];
    const { days, leftOut, stationIds } = createHistory(steps, "Europe/Madrid");
    expect(stationIds).toEqual(["S", "T"]);
    expect(days.map(({ date, steps: ofDay }) => [date, ofDay.length])).toEqual([["2026-07-02", 48]]);
    expect(leftOut).toEqual([
      { date: "2026-07-01", reason: "not all of the day from T" },
      { date: "2026-07-03", reason: "not all of the day from T" },
    ]);
  });

  it("leaves out the days on which the clocks change", () => {
    // 2026: 29 March has 23 hours in Madrid, 25 October has 25.
    const spring = createHistory(hours("2026-03-27T23:00:00Z", 71), "Europe/Madrid");
    expect(spring.days.map(({ date }) => date)).toEqual(["2026-03-28", "2026-03-30"]);
    expect(spring.leftOut).toEqual([{ date: "2026-03-29", reason: "the clocks change" }]);
    const autumn = createHistory(hours("2026-10-23T22:00:00Z", 73), "Europe/Madrid");
    expect(autumn.days.map(({ date }) => date)).toEqual(["2026-10-24", "2026-10-26"]);
    expect(autumn.leftOut).toEqual([{ date: "2026-10-25", reason: "the clocks change" }]);
  });

  it("cuts a step that reaches over midnight there and shares out its rain", () => {
    // Six hours from 21:00 in Madrid: three on each side of midnight.
    const steps = Array.from({ length: 12 }, (_, at) => ({
      ...plainStep(
        new Date(Date.parse("2026-06-30T19:00:00Z") + at * 6 * 3_600_000).toISOString().replace(".000Z", "Z"),
        360,
      ),
      rainMm: 1.2,
    }));
    const { days } = createHistory(steps, "Europe/Madrid");
    expect(days.map(({ date }) => date)).toEqual(["2026-07-01", "2026-07-02"]);
    expect(
      days[0]!.steps.map(({ fromClockMin, toClockMin, step }) => [fromClockMin, toClockMin, step.stepMin, step.rainMm]),
    ).toEqual([
      [0, 180, 180, 0.6],
      [180, 540, 360, 1.2],
      [540, 900, 360, 1.2],
      [900, 1260, 360, 1.2],
      [1260, 1440, 180, 0.6],
    ]);
  });

  it("loses nothing of a real file: days and rain are as measured", () => {
    const measured = seattleDays();
    const { days } = createHistory(seattleSteps(), "UTC");
    expect(days).toHaveLength(measured.length);
    for (const [at, { date, steps }] of days.entries()) {
      expect([date, steps[0]!.step.rainMm]).toEqual([measured[at]!.date, measured[at]!.rainMm]);
    }
    // Seattle's own clocks: days of UTC reach over midnight there, and the rain of whole days stays all the same.
    const local = createHistory(seattleSteps(), "America/Los_Angeles");
    const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
    const localMm = sum(local.days.flatMap(({ steps }) => steps.map(({ step }) => step.rainMm)));
    const measuredMm = sum(measured.map(({ rainMm }) => rainMm));
    expect(local.leftOut.filter(({ reason }) => reason === "the clocks change")).toHaveLength(8);
    // The two ends and the eight days left out held the rest.
    expect(localMm).toBeLessThan(measuredMm);
    expect(localMm).toBeGreaterThan(0.98 * measuredMm);
  });

  it("may be empty", () => {
    expect(createHistory([], "UTC").days).toEqual([]);
  });
});
