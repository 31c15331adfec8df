import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";

export interface PlanBarProps {
  readonly operation: OperationSummary;
  /** The operation has another version now, as after a new forecast. */
  readonly onOperationChanged: () => void;
  readonly session: SessionFacts;
  /** Newest first. */
  readonly plans: readonly ListedPlan[];
  /** The one that is shown; null: there is none yet. */
  readonly plan: ListedPlan | null;
  /** Null: it has not come yet. */
  readonly week: WeekView | null;
  readonly onShow: (planId: string) => void;
  /** A plan has come, gone, or has another state. */
  readonly onPlansChanged: () => void;
}

export function PlanBar({ plan }: PlanBarProps) {
  return <p>{plan?.state}</p>;
}
