import type { Lock } from "../../model/locks.ts";
import type { Operation } from "../../model/operation.ts";
import type { Plan } from "../plan.ts";
import { gatherFacts } from "./facts.ts";
import { checkLocks } from "./locked.ts";
import { type CheckReport, Ledger } from "./report.ts";

/** What of a plan is otherwise than locks have it that were made after it; of the operation's other rules nothing is asked. */
export function checkLocksSince(operation: Operation, locks: readonly Lock[], plan: Plan): CheckReport["breaches"] {
  const ledger = new Ledger();
  checkLocks(gatherFacts({ ...operation, locks: [...locks] }, plan), ledger);
  return ledger.report().breaches;
}
