import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { widthChars } from "../../../shared/plan/textTable.ts";
import { type UsedDay, useOf } from "../../../shared/plan/use.ts";
import { useText } from "../../../shared/plan/useText.ts";
import { type WindowDay, windowHours } from "../../../shared/plan/windowHours.ts";
import { planned } from "../../support/planned.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const outMin = (days: readonly UsedDay[]) => sum(days.map((day) => day.outMin));

function hoursOf(operation: Operation, plan: Parameters<typeof windowHours>[2]): WindowDay[] {
  return windowHours(operation, createAgronomy(operation, createCalendar(operation.settings)), plan);
}

describe("what a plan uses", () => {
  it("adds up the hand-made week", () => {
    const operation = viewOperation();
    const plan = viewPlan(operation);
    const { crews, aircraft, tenders } = useOf(operation, plan);
    // The same minutes as in viewsScore.test.ts: 102 + 154 + 130 of duty, 1 h with two small ones, 1.5 h with one, 20 min with the helicopter.
    expect(sum(crews.map(({ dutyMin }) => dutyMin))).toBe(386);
    const workMin = (type: string) =>
      sum(aircraft.filter(({ typeId }) => typeId === type).flatMap(({ days }) => days.map((day) => day.workMin)));
    expect(workMin("SMALL")).toBe(210);
    expect(workMin("HELI")).toBe(20);
    expect(sum(tenders.map(({ days }) => outMin(days)))).toBe(386);
    // From 04:30 to 18:00, on the day without the hour from two to three too; nobody may be out for more than twelve hours.
    expect(crews.map(({ days }) => days.map(({ shiftMin }) => shiftMin))).toEqual([
      [810, 810, 810],
      [0, 0, 810],
    ]);
    expect(crews.map(({ allowedMin }) => allowedMin)).toEqual([3 * 720, 720]);
  });

  it.each([3, 4])("comes to the plan's own sums, and to nothing that the checker would forbid: seed %i", (seed) => {
    const operation = generateOperation({ orders: 24, crews: 4, days: 3, seed });
    const plan = planned(operation, 300);
    const { score } = plan;
    const { crews, aircraft, tenders, chargers, batteries } = useOf(operation, plan);
    expect(checkPlan(operation, plan).ok).toBe(true);
    expect(sum(crews.map(({ dutyMin }) => dutyMin))).toBe(score.dutyMin);
    expect(sum(tenders.map(({ days }) => outMin(days)))).toBe(score.dutyMin);

    // The score pays each aircraft at work by the hour.
    const runningCents = sum(
      aircraft.map(({ typeId, days }) => {
        const type = operation.fleet.aircraftTypes.find(({ id }) => id === typeId)!;
        return (sum(days.map(({ workMin }) => workMin)) / 60) * type.runningCentsPerHour;
      }),
    );
    expect(Math.round(runningCents)).toBe(score.runningCents);

    // Rules of the checker: duty of a day and a week, things with one crew at a time, sets that there are.
    for (const { days, dutyMin, allowedMin } of crews) {
      expect(dutyMin).toBeLessThanOrEqual(allowedMin);
      for (const day of days) expect(day.dutyMin).toBeLessThanOrEqual(day.allowedMin);
    }
    for (const { days } of [...aircraft, ...tenders, ...chargers]) {
      for (const day of days) expect(day.outMin).toBeLessThanOrEqual(day.thereMin);
    }
    for (const { days } of aircraft) for (const day of days) expect(day.workMin).toBeLessThanOrEqual(day.outMin);
    const bays = sum(operation.fleet.chargers.map(({ bays: own }) => own));
    for (const { chargedMin, days } of chargers) expect(chargedMin).toBeLessThanOrEqual(bays * outMin(days));
    for (const { sets, days } of batteries) for (const day of days) expect(day.out).toBeLessThanOrEqual(sets);
    const changes = sum(
      plan.crewDays.flatMap(({ activities }) =>
        activities.map((activity) => (activity.kind === "work" ? activity.detail.batteryChanges : 0)),
      ),
    );
    expect(sum(batteries.flatMap(({ days }) => days.map((day) => day.changes)))).toBe(changes);
  });

  it("counts calm hours, those with a crew and those worked, each within the one before", () => {
    const operation = generateOperation({ orders: 24, crews: 4, days: 3, seed: 3 });
    const plan = planned(operation, 300);
    const hours = hoursOf(operation, plan);
    expect(sum(hours.map(({ workedMin }) => workedMin))).toBeGreaterThan(0);
    for (const { openMin, mannedMin, workedMin } of hours) {
      expect(mannedMin).toBeLessThanOrEqual(openMin);
      expect(workedMin).toBeLessThanOrEqual(mannedMin);
    }
    const idle = hoursOf({ ...operation, fleet: { ...operation.fleet, crews: [] } }, { blocks: [], crewDays: [] });
    for (const { mannedMin, workedMin } of idle) expect([mannedMin, workedMin]).toEqual([0, 0]);
  });

  it("is told in lines no wider than a page", () => {
    const operation = generateOperation({ orders: 24, crews: 4, days: 7, seed: 3 });
    const plan = planned(operation, 0);
    const lines = useText(useOf(operation, plan), hoursOf(operation, plan));
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(widthChars);
    for (const { id } of operation.fleet.crews) expect(lines.some((line) => line.includes(id))).toBe(true);
  });
});
