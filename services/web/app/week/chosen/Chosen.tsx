import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { chosenWords as words } from "../../strings/chosen.ts";
import type { MoveAsk } from "../moves/MoveDialog.tsx";
import type { OnSelect, Selected } from "../selected.ts";
import { CrewDayChosen } from "./CrewDayChosen.tsx";
import { OrderChosen } from "./OrderChosen.tsx";
import type { ChosenWindows } from "./useOrderWindows.ts";
import "./chosen.css";

export interface ChosenProps {
  readonly operation: OperationSummary;
  readonly session: SessionFacts;
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
  readonly onClose: () => void;
  /** Asks what would help an order, and goes to where that is told. */
  readonly onHelp: (orderId: string) => void;
  readonly onOperationChanged: () => void;
  readonly chosen: ChosenWindows;
  /** Null: who looks may not change the plan. */
  readonly onAsk: ((move: MoveAsk) => void) | null;
}

/** What is chosen, told in full. */
export function Chosen(props: ChosenProps) {
  const { selected } = props;
  return (
    <section className="chosen" aria-label={words.title}>
      {selected === null ? (
        <p className="quiet">{words.nothing}</p>
      ) : (
        <>
          <button type="button" className="plain closeChosen" onClick={props.onClose}>
            {words.close}
          </button>
          <Told {...props} />
        </>
      )}
    </section>
  );
}

function Told(props: ChosenProps) {
  const { selected, week } = props;
  if (selected === null) return null;
  if (selected.kind === "crewDay") {
    const { crewId, date } = selected;
    return <CrewDayChosen key={`${crewId} ${date}`} {...props} crewId={crewId} date={date} />;
  }
  const order = week.orders.find(({ id }) => id === selected.orderId);
  if (order === undefined) return <p>{words.gone}</p>;
  return <OrderChosen {...props} order={order} blockId={selected.blockId ?? null} />;
}
