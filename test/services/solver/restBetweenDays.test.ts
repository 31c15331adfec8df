import { expect, it } from "vitest";
import { compileProblem } from "../../../services/solver/compile.ts";
import { insertAt } from "../../../services/solver/insertion.ts";
import { freeKits } from "../../../services/solver/kits.ts";
import { createDayRun, createState, setOutfit } from "../../../services/solver/state.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { type OperationInput, smallOperation } from "../../support/operation.ts";

it("holds for one more stop when the day before has come to end later since the crew's day was last looked at", () => {
  const { fleet } = smallOperation({}) as OperationInput;
  const operation = smallOperation({
    fleet: { ...fleet, crews: fleet.crews.map((crew) => ({ ...crew, restMinHours: 12 })) },
  });
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const state = createState(problem.routes);
  const run = createDayRun(problem.routes.stride);
  const [before, slot] = problem.slotsOfCrew[0] as [number, number, number];
  setOutfit(state, slot, freeKits(problem, state, slot)[0]!);
  expect(insertAt(state, run, slot, 0, 0)).toBe(true);

  // With nothing before it the day begins with the light, 05:02 by suncalc, less the way and the setting up.
  const sixMin = calendar.minOfLocal("2027-06-08T06:00");
  expect(state.rules!.run(slot, 1, 1, run)).toBe(true);
  expect(run.leaveMin).toBeLessThan(sixMin);

  // As if the crew had then been given work until 18:00 on the day before.
  state.count[before] = 1;
  state.backMin[before] = calendar.minOfLocal("2027-06-07T18:00");
  state.leaveMin[before] = calendar.minOfLocal("2027-06-07T12:00");
  for (const place of [0, 1]) {
    expect(state.rules!.run(slot, 1, place, run)).toBe(true);
    expect(run.leaveMin).toBeGreaterThanOrEqual(sixMin);
  }
});
