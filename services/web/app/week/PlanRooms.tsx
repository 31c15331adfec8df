import { useMemo, useRef, useState } from "react";
import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import type { CalmHours } from "../../../../shared/plan/calmHours.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { get, pathOf } from "../api/call.ts";
import { Guarded } from "../kit/Guarded.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { WeekMapPanel } from "../map/WeekMapPanel.tsx";
import { Board } from "./board/Board.tsx";
import { Chosen } from "./chosen/Chosen.tsx";
import { useOrderWindows } from "./chosen/useOrderWindows.ts";
import { useLocks } from "./locks.ts";
import { type MoveAsk, MoveDialog } from "./moves/MoveDialog.tsx";
import { Unplanned } from "./planning/Unplanned.tsx";
import { useRemedies } from "./planning/useRemedies.ts";
import type { OnSelect, Selected } from "./selected.ts";
import { backToBoard, useChosenInSight, useIsBeside } from "./useChosenInSight.ts";
import "./week.css";

/** A plan's board, and beside it the map, what is chosen and what is not planned. */
export function PlanRooms({
  onKept,
  onOperationChanged,
  onSelect,
  operation,
  plan,
  selected,
  session,
  week,
}: {
  readonly operation: OperationSummary;
  readonly onOperationChanged: () => void;
  readonly session: SessionFacts;
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
  /** A plan with moves by hand has been kept. */
  readonly onKept: (draftId: string) => void;
}) {
  const calm = useAsked(
    useMemo(() => (signal) => get<CalmHours>(pathOf`/api/plans/${plan.id}/calm`, signal), [plan.id]),
  );
  const chosen = useOrderWindows(operation, calm.value, selected);
  const locks = useLocks(operation);
  const remedies = useRemedies(operation.id, plan.id);
  const [move, setMove] = useState<MoveAsk | null>(null);
  const onAsk = session.roles.includes("dispatcher") ? setMove : null;
  const beside = useRef<HTMLDivElement>(null);
  useChosenInSight(beside, selected);
  // Beside the board it stays in sight above what is chosen; under the board that comes first.
  const isBeside = useIsBeside();
  const map = (
    <Guarded>
      <WeekMapPanel planId={plan.id} crews={week.crews} selected={selected} onSelect={onSelect} />
    </Guarded>
  );
  return (
    <div className="weekRooms">
      <Board
        week={week}
        calm={calm.value}
        chosenWindows={chosen.windows.value?.windows ?? null}
        locks={locks}
        selected={selected}
        onSelect={onSelect}
        onMove={onAsk}
      />
      <div className="weekBeside" ref={beside}>
        {isBeside && map}
        <Chosen
          operation={operation}
          session={session}
          plan={plan}
          week={week}
          selected={selected}
          onSelect={onSelect}
          onClose={() => {
            backToBoard();
            onSelect(null);
          }}
          onHelp={(orderId) => {
            if (!remedies.isOpen && remedies.study?.ask.orderId !== orderId) remedies.ask(orderId);
            beside.current!.querySelector(".unplanned")?.scrollIntoView();
          }}
          onOperationChanged={onOperationChanged}
          chosen={chosen}
          onAsk={onAsk}
        />
        {!isBeside && map}
        <Unplanned
          operation={operation}
          onOperationChanged={onOperationChanged}
          session={session}
          week={week}
          selected={selected}
          onSelect={onSelect}
          remedies={remedies}
          onAsk={onAsk}
        />
      </div>
      {move !== null && (
        <MoveDialog
          move={move}
          plan={plan}
          week={week}
          onClose={() => setMove(null)}
          onKept={(draftId) => {
            setMove(null);
            onKept(draftId);
          }}
        />
      )}
    </div>
  );
}
