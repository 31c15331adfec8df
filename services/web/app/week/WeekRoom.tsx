import { useCallback, useMemo } from "react";
import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { get, pathOf } from "../api/call.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { WithOperation } from "../kit/WithOperation.tsx";
import { go } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { weekWords } from "../strings/week.ts";
import { PlanRooms } from "./PlanRooms.tsx";
import { PlanBar } from "./planning/PlanBar.tsx";
import { type OnSelect, type Selected, weekAddress, weekPlaceOf } from "./selected.ts";
import { type PlansOfWeek, usePlans } from "./usePlans.ts";

export default function WeekRoom({ session, within }: RoomProps) {
  return (
    <WithOperation>
      {(operation, again) => <Week operation={operation} again={again} session={session} within={within} />}
    </WithOperation>
  );
}

interface WeekProps extends RoomProps {
  readonly operation: OperationSummary;
  /** Asks for the operation anew, as after a lock. */
  readonly again: () => void;
}

function Week({ again, operation, session, within }: WeekProps) {
  const { planId, selected } = useMemo(() => weekPlaceOf(within), [within]);
  const plans = usePlans(operation.id, planId);
  return (
    <Shown asked={plans}>
      {(known) => (
        <PlanShown
          operation={operation}
          again={again}
          session={session}
          known={known}
          selected={selected}
          onPlansChanged={plans.again}
        />
      )}
    </Shown>
  );
}

function PlanShown({
  again,
  known: { plans, shown },
  onPlansChanged,
  operation,
  selected,
  session,
}: Omit<WeekProps, "within"> & {
  readonly known: PlansOfWeek;
  readonly selected: Selected;
  readonly onPlansChanged: () => void;
}) {
  const planId = shown?.id ?? null;
  const week = useAsked(
    useMemo(
      () => (planId === null ? null : (signal) => get<WeekView>(pathOf`/api/plans/${planId}/week`, signal)),
      [planId],
    ),
  );
  const onSelect: OnSelect = useCallback(
    (one) => {
      if (planId !== null) go(weekAddress(planId, one));
    },
    [planId],
  );
  const onShow = useCallback((other: string) => {
    go(weekAddress(other, null));
  }, []);
  return (
    <div className="week">
      <h1 className="visuallyHidden">{weekWords.title(operation.name)}</h1>
      <PlanBar
        operation={operation}
        onOperationChanged={again}
        session={session}
        plans={plans}
        plan={shown}
        week={week.value}
        onShow={onShow}
        onPlansChanged={onPlansChanged}
      />
      {shown === null ? (
        <Empty>{weekWords.noPlan}</Empty>
      ) : (
        <Shown asked={week}>
          {(view) => (
            <PlanRooms
              operation={operation}
              onOperationChanged={again}
              session={session}
              plan={shown}
              week={view}
              selected={selected}
              onSelect={onSelect}
              onKept={(draftId) => {
                onPlansChanged();
                onShow(draftId);
              }}
            />
          )}
        </Shown>
      )}
    </div>
  );
}
