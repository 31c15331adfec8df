import { describe, expect, it } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { weekdayOf } from "../../../shared/model/dateWords.ts";
import { localTimeOf } from "../../../shared/plan/localTime.ts";
import { type Plan, planSchema } from "../../../shared/plan/plan.ts";
import { scorePlan } from "../../../shared/plan/score.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { smallOperation } from "../../support/operation.ts";
import { viewOperation, viewPlan, viewReport } from "../../support/viewPlan.ts";

const operation = viewOperation();
const view = weekView(operation, viewPlan(operation), viewReport);

describe("weekView", () => {
  it("lays crews by days, with the day off and the day not needed", () => {
    expect(view.crews.map(({ name, base }) => `${name} at ${base}`)).toEqual(["Crew 1 at Yard", "Crew 2 at Yard"]);
    const [first, second] = view.crews;
    expect(first!.days.map(({ shift, crewDay }) => [shift !== null, crewDay !== null])).toEqual([
      [true, true],
      [true, false],
      [true, true],
    ]);
    expect(second!.days[0]).toEqual({ date: "2027-03-26", shift: null, crewDay: null });
    expect(first!.days[0]!.crewDay).toMatchObject({
      outfit: "2 × Small multirotor (A1, A2), 4 battery sets, 1 charger, Tender 1",
      outfitShort: "2 × Small multirotor, Tender 1",
      leave: { clock: "07:00", date: "2027-03-26", iso: "2027-03-26T07:00:00+01:00" },
      back: { clock: "08:42" },
      areaHa: 12,
      roadKm: 16.8,
      dutyMin: 102,
      workMin: 60,
    });
    expect(first!.days[0]!.crewDay!.spans.map(({ kind, start, end }) => [kind, start.clock, end.clock])).toEqual([
      ["drive", "07:00", "07:12"],
      ["setup", "07:12", "07:22"],
      ["work", "07:22", "08:22"],
      ["packup", "08:22", "08:30"],
      ["drive", "08:30", "08:42"],
    ]);
  });

  it("tells of each order when it is done, in part, or why not", () => {
    const [whole, part, none] = view.orders;
    expect(whole).toMatchObject({ id: "O-1", status: "planned", areaHa: 24, plannedHa: 24, conflicts: [] });
    expect(whole!.work.map(({ crewName, date, start, end }) => [crewName, date, start.clock, end.clock])).toEqual([
      ["Crew 1", "2027-03-26", "07:22", "08:22"],
      ["Crew 1", "2027-03-28", "06:07", "07:37"],
    ]);
    expect(part).toMatchObject({ id: "O-2", status: "partly", areaHa: 15, plannedHa: 8 });
    expect(part!.conflicts.map(({ kind }) => kind)).toEqual(["notEnoughHours"]);
    // The one that is left of two, which a move by hand may put in.
    expect(part!.conflicts[0]!.blocks).toEqual([{ blockId: "O-2#2", part: 2, parts: 2, areaHa: 7 }]);
    expect(none!.conflicts[0]!.blocks).toEqual([]);
    expect(none).toMatchObject({ id: "O-3", status: "notPlanned", areaHa: 0, plannedHa: 0, work: [] });
    expect(none!.conflicts[0]!.sentence).toContain("Hill School");
  });

  it("counts conflicts by kind, hectares, cost and checks", () => {
    expect(view.conflictsByKind).toEqual([
      { kind: "bufferLeavesNothing", words: "buffers leave nothing to treat", count: 1, areaHa: 0 },
      { kind: "notEnoughHours", words: "not enough crew hours", count: 1, areaHa: 7 },
    ]);
    expect(view.servedFrac).toBeCloseTo(32 / 39, 12);
    const partSum = view.score.parts.reduce((sum, { cents }) => sum + cents, 0);
    expect(partSum).toBe(view.score.totalCents);
    // drift never came up, so it was not checked.
    expect(view.check).toEqual({ ok: true, rules: 3, checks: 247, breaches: [] });
  });

  it("is plain JSON", () => {
    expect(JSON.parse(JSON.stringify(view))).toEqual(view);
  });

  it("stops at a plan that names what the operation does not have", () => {
    const stripped = { ...operation, fleet: { ...operation.fleet, tenders: [] } };
    expect(() => weekView(stripped, viewPlan(operation), viewReport)).toThrow("the plan names T1");
  });
});

describe("clock changes", () => {
  it("reads a night shift over the hour that is left out", () => {
    // In the EU the clocks go forward at 01:00 UTC on the last Sunday of March: Directive 2000/84/EC, article 2.
    const sunday = view.days[2]!;
    expect(sunday).toMatchObject({ date: "2027-03-28", weekday: "Sunday", clockShiftMin: 60 });
    expect(view.days[1]).toMatchObject({ weekday: "Saturday", clockShiftMin: 0 });
    const night = view.crews[1]!.days[2]!.crewDay!;
    // Leaves 01:30, drives 60 minutes that really pass, and it is 03:30.
    expect(night.spans[0]).toMatchObject({
      start: { iso: "2027-03-28T01:30:00+01:00" },
      end: { iso: "2027-03-28T03:30:00+02:00", clock: "03:30" },
    });
    expect(night.dutyMin).toBe(130);
    // The sun keeps its pace: by the clock it rises an hour later less the two minutes of a March day.
    expect(sunday.sunrise!.min - view.days[1]!.sunrise!.min).toBeGreaterThan(1440 - 4);
    expect(sunday.sunrise!.min - view.days[1]!.sunrise!.min).toBeLessThan(1440);
  });

  it("tells the two equal hours of an autumn night apart in the south", () => {
    // South Australia goes back from 03:00 to 02:00 on the first Sunday of April: Daylight Saving Act 1971 (SA), MEMORY.
    const settings = { timeZone: "Australia/Adelaide", firstDay: "2027-04-03", days: 3 };
    const south = smallOperation({ settings });
    const blocks: Plan["blocks"] = [];
    const plan = planSchema.parse({
      formatVersion: 1,
      operationName: south.settings.name,
      ...settings,
      seed: 1,
      iterations: 0,
      blocks,
      crewDays: [],
      conflicts: [],
      score: scorePlan(south, { blocks, crewDays: [] }),
    });
    expect(weekView(south, plan, viewReport).days.map((day) => day.clockShiftMin)).toEqual([0, -60, 0]);
    const calendar = createCalendar(south.settings);
    const first = localTimeOf(calendar, 1440 + 150);
    const second = localTimeOf(calendar, 1440 + 210);
    expect([first.clock, second.clock]).toEqual(["02:30", "02:30"]);
    expect([first.iso, second.iso]).toEqual(["2027-04-04T02:30:00+10:30", "2027-04-04T02:30:00+09:30"]);
  });

  it("names weekdays as the engine's own calendar does", () => {
    const format = new Intl.DateTimeFormat("en-GB", { weekday: "long", timeZone: "UTC" });
    for (let day = -800; day < 1200; day += 37) {
      const instant = new Date(Date.UTC(2024, 1, 29 + day));
      expect(weekdayOf(instant.toISOString().slice(0, 10))).toBe(format.format(instant));
    }
  });
});
