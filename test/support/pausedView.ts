import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { scorePlan } from "../../shared/plan/score.ts";
import { moveBy } from "./mutations/mutation.ts";
import { viewOperation, viewPlan } from "./viewPlan.ts";

/** The week of viewPlan.ts with more wind than the labels allow on its first day from 08:00 to 09:00. */
export function windyOperation(): Operation {
  const operation = viewOperation();
  const { minOfInstant, minOfLocal } = createCalendar(operation.settings);
  const windy = operation.weather.find(({ start }) => minOfInstant(start) === minOfLocal("2027-03-26T08:00"))!;
  Object.assign(windy, { windKph: 24, gustKph: 24 });
  return operation;
}

/** The first work of the week, 07:22 to 08:22, pauses between two local times: it and what follows it end later. */
export function pausedPlan(operation: Operation, from: string, to: string): Plan {
  const plan = viewPlan(operation);
  const { minOfLocal } = createCalendar(operation.settings);
  const [startMin, endMin] = [from, to].map((clock) => minOfLocal(`2027-03-26T${clock}`));
  const pause = { startMin: startMin!, endMin: endMin! };
  const byMin = pause.endMin - pause.startMin + operation.settings.planning.resumeMin;
  const { activities } = plan.crewDays[0]!;
  for (const activity of activities.slice(3)) moveBy(activity, byMin);
  activities[2] = { ...activities[2]!, endMin: activities[2]!.endMin + byMin, pauses: [pause] } as never;
  return { ...plan, score: scorePlan(operation, plan) };
}
