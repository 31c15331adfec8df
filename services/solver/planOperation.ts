import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { publishedStops } from "../../shared/plan/published.ts";
import { compileProblem } from "./compile.ts";
import { explainConflicts } from "./explain.ts";
import { type SolveControls, solve } from "./solve.ts";
import { type LeftOut, startFrom } from "./startFrom.ts";
import { toPlan } from "./toPlan.ts";
import { insertWhatStillPays } from "./topUp.ts";

export interface PlanControls extends SolveControls {
  /** Written into the plan, so that it can be made again. */
  readonly seed: number;
  /** A plan to start from, as far as it still holds. */
  readonly from?: Plan;
  /** A plan that people know already: changes against it cost, and the search starts from it if from no other. */
  readonly published?: Plan;
  /** Told of what of that plan no longer holds. */
  readonly onLeftOut?: (left: readonly LeftOut[]) => void;
}

/** Plan an operation: compile, search, explain what does not fit. The checker's verdict is the caller's to ask for. */
export function planOperation(operation: Operation, controls: PlanControls): Plan {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const { published, from = published, onLeftOut } = controls;
  const stops = published === undefined ? null : publishedStops(published, calendar);
  const problem = compileProblem(operation, calendar, agronomy, stops);
  const start = from === undefined ? undefined : startFrom(problem, from);
  if (start !== undefined) onLeftOut?.(start.left);
  const { state, iterations } = solve(problem.routes, controls, start?.state);
  const present = insertWhatStillPays(problem, state);
  const conflicts = explainConflicts(problem, agronomy, state, present);
  return toPlan(problem, state, conflicts, { seed: controls.seed, iterations });
}
