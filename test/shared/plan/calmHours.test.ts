import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readScenario } from "../../../services/scenario/read.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { calmViewSchema } from "../../../shared/contracts/calm.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { calmHours } from "../../../shared/plan/calmHours.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { minutesByHour } from "../../../shared/plan/minutesByHour.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const nothingPlanned: Pick<Plan, "blocks" | "crewDays"> = { blocks: [], crewDays: [] };

async function smallScenario(): Promise<Operation> {
  const read = await readScenario(join(import.meta.dirname, "../../../scenarios/small"));
  if (!read.ok) throw new Error("the small scenario is faulty");
  return read.operation;
}

/** Minute by minute, by the judgement that people are told. */
function judged(operation: Operation, startMin: number, endMin: number) {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const night = operation.fleet.crews.some(({ nightWork }) => nightWork);
  let openHa = 0;
  for (const order of operation.orders) {
    if (agronomy.orderLimits(order).length > 0) continue;
    const types = operation.fleet.aircraftTypes.filter(
      (type) =>
        operation.fleet.aircraft.some(({ typeId }) => typeId === type.id) &&
        agronomy.typeLimits(order, type).length === 0,
    );
    for (const { areaHa, part } of agronomy.parts(order)) {
      const asked = { night, ...(part === "rest" ? { rest: true as const } : {}) };
      for (let min = startMin; min < endMin; min++) {
        if (types.some((type) => agronomy.judge(order, type, min, asked).length === 0)) {
          openHa += areaHa / (endMin - startMin);
        }
      }
    }
  }
  return openHa;
}

describe("the calm hours of a week", () => {
  it("have as many hectares open as minute by minute may be worked", async () => {
    const operation = await smallScenario();
    const { days } = calmHours(operation, nothingPlanned);
    const hours = days.flatMap((day) => day.hours);
    for (const { end, openHa, start } of hours) {
      // Told to a hundredth of a hectare.
      expect(Math.abs(openHa - judged(operation, start.min, end.min))).toBeLessThan(0.0051);
    }
    expect(new Set(hours.map(({ openHa }) => openHa > 0))).toEqual(new Set([true, false]));
  });

  it("name for every hour in which nothing is open a limit that closes as much as any", async () => {
    const operation = await smallScenario();
    const { ableHa, days, orders } = calmHours(operation, nothingPlanned);
    const agronomy = createAgronomy(operation, createCalendar(operation.settings));
    let seen = 0;
    for (const { closedBy, end, openHa, start } of days.flatMap((day) => day.hours)) {
      expect(closedBy.map(({ areaHa }) => areaHa)).toEqual(
        closedBy.map(({ areaHa }) => areaHa).toSorted((a, b) => b - a),
      );
      for (const { areaHa, limit, sentence } of closedBy) {
        expect(areaHa).toBeLessThanOrEqual(ableHa + 0.01);
        const minutes = Array.from({ length: end.min - start.min }, (_, at) => start.min + at);
        const said = orders.flatMap(({ aircraftTypeId, night, orderId }) => {
          const order = operation.orders.find(({ id }) => id === orderId)!;
          const type = operation.fleet.aircraftTypes.find(({ id }) => id === aircraftTypeId)!;
          return minutes.flatMap((min) => agronomy.judge(order, type, min, { night }));
        });
        expect(said.map((one) => `${one.limit} ${one.sentence}`)).toContain(`${limit} ${sentence}`);
        seen++;
      }
      if (openHa === 0) expect(closedBy.length).toBeGreaterThan(0);
    }
    expect(seen).toBeGreaterThan(50);
  });

  it("are those of what a crew takes out, on days of any length", () => {
    const operation = viewOperation();
    const plan = viewPlan(operation);
    const view = calmHours(operation, plan);
    calmViewSchema.parse({ caution, ...view });
    // The clocks go forward on the last day.
    expect(view.days.map(({ hours }) => hours.length)).toEqual([24, 24, 23]);
    expect(view.days[2]!.hours.map(({ start }) => start.clock).slice(0, 4)).toEqual([
      "00:00",
      "01:00",
      "03:00",
      "04:00",
    ]);
    expect(view.crews).toHaveLength(operation.fleet.crews.length * 3);
    for (const { ableHa, date, openHa } of view.crews) {
      const { hours } = view.days.find((day) => day.date === date)!;
      expect(openHa).toHaveLength(hours.length);
      expect(ableHa).toBeLessThanOrEqual(view.ableHa);
      for (const [at, ha] of openHa.entries()) expect(ha).toBeLessThanOrEqual(hours[at]!.openHa + 0.01);
    }
    const nobody = structuredClone(operation);
    for (const crew of nobody.fleet.crews) for (const person of crew.people) person.ratings = [];
    expect(calmHours(nobody, plan).crews.every(({ ableHa }) => ableHa === 0)).toBe(true);
    expect(view.crews.some(({ ableHa }) => ableHa > 0)).toBe(true);
  });

  it("count the minutes of a list by hours", () => {
    const hours = [0, 60, 120, 180].map((startMin) => ({ startMin, endMin: startMin + 60 }));
    const list = [
      { startMin: 30, endMin: 70 },
      { startMin: 80, endMin: 90 },
      { startMin: 130, endMin: 300 },
    ];
    // 30 of the first; 10 + 10 of the second; 50 of the third; all of the fourth.
    expect([...minutesByHour(list, hours)]).toEqual([30, 20, 50, 60]);
  });
});
