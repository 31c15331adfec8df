import { describe, expect, it } from "vitest";
import { boardScale, dayStarts, laneHeightPx, layWeek } from "../../../../services/web/app/week/board/layout.ts";
import { openPath } from "../../../../services/web/app/week/board/openPath.ts";
import { barsPath, tidePath } from "../../../../services/web/app/week/board/paths.ts";
import { calmHours } from "../../../../shared/plan/calmHours.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { weekView } from "../../../../shared/plan/weekView.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

// The clocks of Berlin go forward on the last of its three days.
const operation = viewOperation();
const plan = viewPlan(operation);
const week = weekView(operation, plan, checkPlan(operation, plan));
const calm = calmHours(operation, plan);
const scale = boardScale(week, 1080);
const days = layWeek(week, calm, scale);

describe("the board", () => {
  it("begins every day at its own midnight, also when the clocks change", () => {
    // 24 hours each, and the last day is an hour shorter.
    expect(dayStarts(week.days)).toEqual([0, 1440, 2880]);
    expect(calm.days.map(({ hours }) => hours[0]!.start.min)).toEqual([0, 1440, 2880]);
    const autumn = [{ ...week.days[0]!, clockShiftMin: -60 }, { ...week.days[1]!, clockShiftMin: 60 }, week.days[2]!];
    expect(dayStarts(autumn)).toEqual([0, 1500, 2880]);
  });

  it("shows whole hours from before the first sunrise or leaving to after the last sunset or return", () => {
    expect(scale.fromMin % 60).toBe(0);
    expect(scale.toMin % 60).toBe(0);
    const starts = dayStarts(week.days);
    for (const [day, { sunrise, sunset }] of week.days.entries()) {
      expect(sunrise!.min - starts[day]!).toBeGreaterThanOrEqual(scale.fromMin);
      expect(sunset!.min - starts[day]!).toBeLessThanOrEqual(scale.toMin);
    }
    expect(scale.pxPerMin * (scale.toMin - scale.fromMin)).toBeCloseTo(scale.widthPx, 9);
    // In too little room it scrolls: 40 px for every hour.
    expect(boardScale(week, 100).widthPx).toBe(((scale.toMin - scale.fromMin) / 60) * 40);
  });

  it("draws every stop from its first minute to its last, in the order of the day", () => {
    const stops = days.flatMap(({ lanes, startMin }) =>
      lanes.flatMap((lane) => lane.stops.map((laid) => ({ ...laid, startMin }))),
    );
    expect(stops.map(({ stop }) => stop.blockId).sort()).toEqual(
      plan.crewDays
        .flatMap(({ activities }) => activities.flatMap((one) => (one.kind === "work" ? [one.blockId] : [])))
        .sort(),
    );
    for (const { leftPx, startMin, stop, widthPx } of stops) {
      const minOf = (px: number) => px / scale.pxPerMin + scale.fromMin + startMin;
      expect(minOf(leftPx)).toBeCloseTo(stop.start.min, 6);
      expect(minOf(leftPx + widthPx)).toBeCloseTo(stop.end.min, 6);
    }
    for (const { lanes } of days)
      for (const { stops: own } of lanes) expect(own.map(({ number }) => number)).toEqual(own.map((_, at) => at + 1));
  });

  it("writes a name only where it has room", () => {
    const wide = layWeek(week, calm, boardScale(week, 4000)).flatMap(({ lanes }) =>
      lanes.flatMap(({ stops }) => stops),
    );
    const narrow = layWeek(week, calm, boardScale(week, 100)).flatMap(({ lanes }) =>
      lanes.flatMap(({ stops }) => stops),
    );
    for (const { number, shows, widthPx } of [...wide, ...narrow]) {
      // A figure is 8.7 px wide as it is usually written, 7.4 where it is written smaller; frame, sign and edge are 12 and 9 px.
      const figures = String(number).length;
      if (widthPx >= 72) expect(shows).toBe("name");
      else expect(shows).not.toBe("name");
      if (shows === "number") expect(widthPx).toBeGreaterThanOrEqual(12 + 8.7 * figures);
      if (shows === "smallNumber") expect(widthPx).toBeGreaterThanOrEqual(9 + 7.4 * figures);
      if (shows === "nothing") expect(widthPx).toBeLessThan(11 + 8 * figures);
    }
    expect(new Set([...wide, ...narrow].map(({ shows }) => shows)).size).toBeGreaterThan(1);
  });

  it("has the clocks of the day over its hours, and skips the hour that is left out", () => {
    const clocks = layWeek(week, calm, { fromMin: 0, toMin: 1440, widthPx: 1440 * 2, pxPerMin: 2 }).map(
      ({ ticks }) => ticks,
    );
    expect(clocks[0]!.map(({ clock }) => clock).slice(0, 3)).toEqual(["01:00", "02:00", "03:00"]);
    expect(clocks[2]!.map(({ clock }) => clock).slice(0, 3)).toEqual(["01:00", "03:00", "04:00"]);
    // 60 minutes of 2 px each after the tick before, whatever the clocks say.
    expect(clocks[2]![1]!.leftPx - clocks[2]![0]!.leftPx).toBe(120);
  });

  it("has the tide as high as the share of the most that the crew ever has open", () => {
    const lane = days.flatMap(({ lanes }) => lanes).find(({ tide }) => tide !== "")!;
    const own = calm.crews.filter(({ crewId }) => crewId === lane.crewId);
    const mostHa = Math.max(...own.flatMap(({ openHa }) => openHa));
    const shown = own.find(({ date }) => date === lane.date)!.openHa.slice(scale.fromMin / 60, scale.toMin / 60);
    const heights = [...lane.tide.matchAll(/V([\d.]+)H/g)].map(([, y]) => Number(y));
    expect(heights).toHaveLength(shown.length);
    for (const [at, ha] of shown.entries()) {
      // Paths are written to a tenth of a px.
      expect(Math.abs(heights[at]! - laneHeightPx * (1 - ha / mostHa))).toBeLessThan(0.051);
    }
  });

  it("names crews that are off, and has no row for them", () => {
    for (const { date, lanes, off } of days) {
      const onShift = operation.fleet.crews.filter(({ shifts }) => shifts.some((shift) => shift.date === date));
      expect(lanes.map(({ crewId }) => crewId)).toEqual(onShift.map(({ id }) => id));
      expect(off).toEqual(operation.fleet.crews.filter((crew) => !onShift.includes(crew)).map(({ name }) => name));
    }
    expect(days.some(({ off }) => off.length > 0)).toBe(true);
  });

  it("is drawn before the calm hours are known", () => {
    const bare = layWeek(week, null, scale);
    expect(bare.map(({ hours }) => hours)).toEqual([[], [], []]);
    expect(bare.flatMap(({ lanes }) => lanes.flatMap(({ stops }) => stops))).toHaveLength(
      days.flatMap(({ lanes }) => lanes.flatMap(({ stops }) => stops)).length,
    );
  });
});

describe("paths", () => {
  it("step from hour to hour, in one piece from the ground to the ground", () => {
    // Half of 40 px up, then all, then nothing; each hour 10 px wide.
    const hours = [0.5, 1, 0].map((share, at) => ({ leftPx: at * 10, widthPx: 10, share }));
    expect(tidePath(hours, 40)).toBe("M0 40V20H10V0H20V40H30V40Z");
    // The highest stays 10 px under the top: half of 30 px up is at 25.
    expect(tidePath(hours, 40, 10)).toBe("M0 40V25H10V10H20V40H30V40Z");
    expect(tidePath([], 40)).toBe("");
  });

  it("have one box for each span", () => {
    const path = barsPath("drive", [
      { leftPx: 1, widthPx: 5 },
      { leftPx: 10, widthPx: 2.25 },
    ]);
    expect(path.match(/M/g)).toHaveLength(2);
    expect(path).toContain("M10 24h2.3");
  });

  it("mark the chosen order's windows on each day, cut at its ends", () => {
    const scaleOfDay = { fromMin: 300, toMin: 1200, widthPx: 900, pxPerMin: 1 };
    // 06:00 to 07:00 of the second day, and a night that begins at 19:00 of it.
    const windows = [
      { startMin: 1440 + 360, endMin: 1440 + 420 },
      { startMin: 1440 + 1140, endMin: 3000 },
    ];
    expect(openPath(windows, { startMin: 1440 }, scaleOfDay)).toBe("M60 0H120V4H60ZM840 0H900V4H840Z");
    expect(openPath(windows, { startMin: 0 }, scaleOfDay)).toBe("");
  });
});
