import { useCallback, useState } from "react";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import { get, pathOf } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { publishWords } from "../../strings/publish.ts";
import { useUnits } from "../../units/units.ts";
import { Difference } from "./Difference.tsx";
import { FiguresTable } from "./FiguresTable.tsx";
import { patiently } from "./patiently.ts";
import { planOption } from "./planNames.ts";

/** Two plans side by side: figures, and what is otherwise stop by stop. */
export function ComparePlans({
  currency,
  onClose,
  plan,
  plans,
  timeZone,
}: {
  readonly plans: readonly ListedPlan[];
  readonly plan: ListedPlan;
  readonly currency: string;
  readonly timeZone: string | undefined;
  readonly onClose: () => void;
}) {
  const units = useUnits();
  const others = plans.filter(({ id }) => id !== plan.id);
  const [otherId, setOtherId] = useState(
    () => (others.find(({ state }) => state === "published") ?? others[0])?.id ?? null,
  );
  const other = others.find(({ id }) => id === otherId);
  return (
    <Dialog title={words.compareTitle} onClose={onClose}>
      <p>{words.compareText}</p>
      {other === undefined ? (
        <p className="empty">{words.nothingToCompare}</p>
      ) : (
        <>
          <label>
            {words.otherPlan}
            <select value={other.id} onChange={({ target }) => setOtherId(target.value)}>
              {others.map((one) => (
                <option key={one.id} value={one.id}>
                  {planOption(one, timeZone, units.areaHa)}
                </option>
              ))}
            </select>
          </label>
          <BetweenPlans planId={plan.id} beforePlanId={other.id} currency={currency} />
        </>
      )}
    </Dialog>
  );
}

function BetweenPlans({
  beforePlanId,
  currency,
  planId,
}: {
  readonly planId: string;
  readonly beforePlanId: string;
  readonly currency: string;
}) {
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) =>
        patiently(
          () => get<DifferenceAnswer>(pathOf`/api/plans/${planId}/difference?to=${beforePlanId}`, signal),
          signal,
        ),
      [planId, beforePlanId],
    ),
  );
  return (
    <Shown asked={asked}>
      {(difference) => (
        <>
          <FiguresTable difference={difference} currency={currency} />
          <h3>{publishWords.stopByStop}</h3>
          <Difference difference={difference} />
        </>
      )}
    </Shown>
  );
}
