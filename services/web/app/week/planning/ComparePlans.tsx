import { useCallback, useState } from "react";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import { get, pathOf } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { type UnitWords, useUnits } from "../../units/units.ts";
import { Difference } from "./Difference.tsx";
import { patiently } from "./patiently.ts";
import { planOption } from "./planNames.ts";
import { durationWords, moneyWords } from "./times.ts";

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
          <Figures plan={plan} other={other} currency={currency} units={units} />
          <BetweenPlans planId={plan.id} beforePlanId={other.id} />
        </>
      )}
    </Dialog>
  );
}

export function BetweenPlans({ beforePlanId, planId }: { readonly planId: string; readonly beforePlanId: string }) {
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
  return <Shown asked={asked}>{(difference) => <Difference difference={difference} />}</Shown>;
}

function Figures({
  currency,
  other,
  plan,
  units,
}: {
  readonly plan: ListedPlan;
  readonly other: ListedPlan;
  readonly currency: string;
  readonly units: UnitWords;
}) {
  const money = (cents: number) => moneyWords(cents, currency);
  const rows: readonly [string, number, number, (value: number) => string][] = [
    [words.figures.planned, plan.totals.servedHa, other.totals.servedHa, units.areaHa],
    [words.figures.duty, plan.totals.dutyMin, other.totals.dutyMin, durationWords],
    [words.figures.road, plan.totals.roadKm, other.totals.roadKm, units.roadKm],
    [words.figures.cost, plan.totals.totalCents, other.totals.totalCents, money],
  ];
  return (
    <div className="scroller">
      <table>
        <caption className="visuallyHidden">{words.compareTitle}</caption>
        <thead>
          <tr>
            <th scope="col">{words.figure}</th>
            <th scope="col">{words.thisPlan}</th>
            <th scope="col">{words.other}</th>
            <th scope="col">{words.differenceOfBoth}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([title, is, was, shown]) => (
            <tr key={title}>
              <th scope="row">{title}</th>
              <td>{shown(is)}</td>
              <td>{shown(was)}</td>
              <td>{moreOrLess(is - was, shown)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** With its sign; what shows as nothing is the same. */
function moreOrLess(difference: number, shown: (value: number) => string): string {
  const words0 = shown(0);
  const size = shown(Math.abs(difference));
  if (size === words0) return words.same;
  return `${difference > 0 ? "+" : "−"}${size}`;
}
