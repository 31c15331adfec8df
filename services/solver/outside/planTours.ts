import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Tour } from "../../../shared/contracts/tours.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Fault } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import { sleepsAt } from "../../../shared/plan/nights.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { compileProblem } from "../compile.ts";
import { explainConflicts } from "../explain.ts";
import { toPlan } from "../toPlan.ts";
import { resolveTours } from "./resolveTours.ts";
import { runTours, type TourRun } from "./runTours.ts";

export type ToursPlan =
  | { readonly ok: true; readonly plan: Plan; readonly runs: readonly TourRun[] }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** The plan that tours from outside come to. The checker's verdict is the caller's to ask for. */
export function planTours(operation: Operation, tours: readonly Tour[]): ToursPlan {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const problem = compileProblem(operation, calendar, agronomy);
  const { resolved, faults } = resolveTours(problem, tours);
  if (faults.length > 0) return { ok: false, faults };
  const { state, runs } = runTours(problem, resolved);
  const plan = toPlan(problem, state, explainConflicts(problem, agronomy, state), { seed: 0, iterations: 0 });
  return { ok: true, plan, runs };
}

/** The tours of a plan, without its times. A crew's last day ends at home. */
export function toursOf({ crewDays }: Plan): Tour[] {
  const homeOf = new Map(
    crewDays.toSorted((a, b) => (a.date < b.date ? -1 : 1)).map((crewDay) => [crewDay.crewId, sleepsAt(crewDay)]),
  );
  return crewDays.map((crewDay) => ({
    crewId: crewDay.crewId,
    date: crewDay.date,
    outfit: crewDay.outfit,
    blockIds: worksOf(crewDay).map(({ blockId }) => blockId),
    ...(sleepsAt(crewDay) === homeOf.get(crewDay.crewId) ? {} : { sleepsAt: sleepsAt(crewDay) as BaseId }),
  }));
}
