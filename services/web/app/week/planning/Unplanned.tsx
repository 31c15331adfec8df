import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import type { OnSelect, Selected } from "../selected.ts";

export interface UnplannedProps {
  readonly operation: OperationSummary;
  readonly onOperationChanged: () => void;
  readonly session: SessionFacts;
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
}

/** What the plan leaves out, why, and what would help. */
export function Unplanned({ week }: UnplannedProps) {
  return <p>{week.conflicts.length}</p>;
}
