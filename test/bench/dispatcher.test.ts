import { describe, expect, it } from "vitest";
import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../services/solver/compile.ts";
import { explainConflicts } from "../../services/solver/explain.ts";
import { toPlan } from "../../services/solver/toPlan.ts";
import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import { checkPlan } from "../../shared/plan/check/checkPlan.ts";
import { dispatchByHand } from "./dispatcher.ts";

describe("a week planned by hand", () => {
  it("keeps every rule, serves something, and gives each crew one tender and one type of aircraft all week", () => {
    const operation = generateOperation({ orders: 40, crews: 5, days: 7, seed: 14 });
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const problem = compileProblem(operation, calendar, agronomy);
    const state = dispatchByHand(problem);
    const plan = toPlan(problem, state, explainConflicts(problem, agronomy, state), { seed: 0, iterations: 0 });
    expect(checkPlan(operation, plan).breaches).toEqual([]);
    expect(plan.score.servedHa).toBeGreaterThan(0.2 * plan.score.orderedHa);
    const usual = new Map<string, string>();
    for (const { crewId, outfit } of plan.crewDays) {
      const { typeId } = operation.fleet.aircraft.find(({ id }) => id === outfit.aircraftIds[0])!;
      const things = `${outfit.tenderId} ${typeId}`;
      expect(usual.get(crewId) ?? things).toBe(things);
      usual.set(crewId, things);
    }
    expect(plan.crewDays.length).toBeGreaterThan(operation.fleet.crews.length);
  });
});
