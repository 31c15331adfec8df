import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { compileProblem } from "./compile.ts";
import { explainConflicts } from "./explain.ts";
import { type SolveControls, solve } from "./solve.ts";
import { toPlan } from "./toPlan.ts";
import { insertWhatStillPays } from "./topUp.ts";

export interface PlanControls extends SolveControls {
  /** Written into the plan, so that it can be made again. */
  readonly seed: number;
}

/** Plan an operation: compile, search, explain what does not fit. The checker's verdict is the caller's to ask for. */
export function planOperation(operation: Operation, controls: PlanControls): Plan {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const problem = compileProblem(operation, calendar, agronomy);
  const { state, iterations } = solve(problem.routes, controls);
  const present = insertWhatStillPays(problem, state);
  const conflicts = explainConflicts(problem, agronomy, state, present);
  return toPlan(problem, state, conflicts, { seed: controls.seed, iterations });
}
