import type { Operation } from "../../shared/model/operation.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { Tried, TryTask } from "../solver/remedies/tryChanges.ts";

export interface RemedyThreadInput {
  readonly operation: Operation;
  readonly plan: Plan;
  readonly iterations: number;
}

/** `at` is the task's place among those that are tried together. */
export interface ToRemedyThread {
  readonly at: number;
  readonly task: TryTask;
}

export interface FromRemedyThread {
  readonly at: number;
  readonly tried: Tried;
}
