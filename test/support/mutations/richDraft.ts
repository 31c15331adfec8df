import { createCalendar } from "../../../shared/model/calendar.ts";
import { richOperation } from "../richOperation.ts";
import { richPlan } from "../richPlan.ts";
import type { Draft } from "./mutation.ts";

/** The rich operation and its plan to be changed by hand, not at random. */
export function richDraft(): Draft {
  const operation = richOperation();
  return {
    operation,
    plan: richPlan(operation),
    calendar: createCalendar(operation.settings),
    random: () => 0,
  };
}
