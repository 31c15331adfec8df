import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { weekWords } from "../../strings/week.ts";
import type { OnSelect, Selected } from "../selected.ts";

export function Board({
  onSelect,
  selected,
  week,
}: {
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
}) {
  return (
    <section aria-label={weekWords.board}>
      <ul>
        {week.orders.map(({ fieldName, id }) => (
          <li key={id}>
            <button
              type="button"
              aria-pressed={selected?.kind === "order" && selected.orderId === id}
              onClick={() => onSelect({ kind: "order", orderId: id })}
            >
              {fieldName}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
