import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { weekWords } from "../../strings/week.ts";
import type { OnSelect, Selected } from "../selected.ts";

export interface ChosenProps {
  readonly operation: OperationSummary;
  readonly session: SessionFacts;
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
  readonly onOperationChanged: () => void;
}

/** What is chosen, told in full. */
export function Chosen({ selected, week }: ChosenProps) {
  if (selected === null) return null;
  const order = selected.kind === "order" ? week.orders.find(({ id }) => id === selected.orderId) : undefined;
  return <section aria-label={weekWords.chosen}>{order?.fieldName}</section>;
}
