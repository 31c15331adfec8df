import { useCallback, useState } from "react";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { ListedPlan, Publication } from "../../../../../shared/contracts/plans.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { get, pathOf } from "../../api/call.ts";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { useUnits } from "../../units/units.ts";
import { AskForPlan } from "./AskForPlan.tsx";
import { ComparePlans } from "./ComparePlans.tsx";
import { CrewLinks } from "./CrewLinks.tsx";
import { DiscardPlan } from "./DiscardPlan.tsx";
import { PlanFacts } from "./PlanFacts.tsx";
import { PublishPlan } from "./PublishPlan.tsx";
import { planOption, publicationOf, withShown } from "./planNames.ts";
import { RunningPlans } from "./RunningPlans.tsx";
import { SomethingChanged } from "./SomethingChanged.tsx";
import { WorkProgress } from "./WorkProgress.tsx";
import "./planning.css";

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

type Open =
  | { readonly kind: "ask" | "changed" | "compare" | "links" | "discard" }
  | { readonly kind: "publish"; readonly planId: string; readonly isAgain: boolean }
  | null;

/** Which plan is shown, what it comes to, and all that is done with plans. */
export function PlanBar({
  onOperationChanged,
  onPlansChanged,
  onShow,
  operation,
  plan,
  plans,
  session,
  week,
}: PlanBarProps) {
  const [open, setOpen] = useState<Open>(null);
  const units = useUnits();
  const timeZone = week?.timeZone;
  const publications = usePublications(operation.id, plan?.state);
  const mayPlan = session.roles.includes("dispatcher");
  const close = () => setOpen(null);
  const currency = week?.currency ?? "";
  return (
    <section className="planBar" aria-label={words.bar}>
      <div className="planBarTop">
        {plan !== null && (
          <label className="planChoice">
            <span className="visuallyHidden">{words.chosenPlan}</span>
            <select value={plan.id} onChange={({ target }) => onShow(target.value)}>
              {withShown(plans, plan).map((one) => (
                <option key={one.id} value={one.id}>
                  {planOption(one, timeZone, units.areaHa)}
                </option>
              ))}
            </select>
          </label>
        )}
        <div className="planButtons">
          {mayPlan && (
            <button type="button" className={plan === null ? "main" : ""} onClick={() => setOpen({ kind: "ask" })}>
              {words.ask}
            </button>
          )}
          {mayPlan && plan !== null && (
            <button type="button" onClick={() => setOpen({ kind: "changed" })}>
              {words.changed}
            </button>
          )}
          {plan !== null && (
            <button type="button" onClick={() => setOpen({ kind: "compare" })}>
              {words.compare}
            </button>
          )}
          {mayPlan && plan !== null && plan.state !== "published" && (
            <button
              type="button"
              className="main"
              onClick={() => setOpen({ kind: "publish", planId: plan.id, isAgain: false })}
            >
              {words.publish}
            </button>
          )}
          {mayPlan && plan !== null && (
            <button type="button" onClick={() => setOpen({ kind: "links" })}>
              {words.links}
            </button>
          )}
          {mayPlan && plan?.state === "draft" && plan.origin === "moved" && (
            <button type="button" className="plain" onClick={() => setOpen({ kind: "discard" })}>
              {words.discard}
            </button>
          )}
        </div>
      </div>
      {plan !== null && (
        <PlanFacts
          plan={plan}
          week={week}
          publication={publicationOf(plan.id, publications)}
          operationVersion={operation.version}
        />
      )}
      <RunningPlans
        operationId={operation.id}
        currency={currency}
        mayPlan={mayPlan}
        onShow={onShow}
        onLook={(planId) => setOpen({ kind: "publish", planId, isAgain: true })}
        onPlansChanged={onPlansChanged}
      />
      {plan?.state === "published" && week !== null && (
        <WorkProgress operationId={operation.id} planId={plan.id} week={week} />
      )}
      {open?.kind === "ask" && <AskForPlan operationId={operation.id} onClose={close} />}
      {open?.kind === "compare" && plan !== null && (
        <ComparePlans plans={plans} plan={plan} currency={currency} timeZone={timeZone} onClose={close} />
      )}
      {open?.kind === "links" && (
        <CrewLinks operationId={operation.id} crews={week?.crews ?? []} timeZone={timeZone} onClose={close} />
      )}
      {open?.kind === "discard" && plan !== null && (
        <DiscardPlan
          planId={plan.id}
          onClose={close}
          onGone={() => {
            close();
            onPlansChanged();
          }}
        />
      )}
      {open?.kind === "changed" && plan !== null && (
        <SomethingChanged
          operationId={operation.id}
          plan={plan}
          week={week}
          onOperationChanged={onOperationChanged}
          onClose={close}
        />
      )}
      {open?.kind === "publish" && (
        <PublishPlan
          operationId={operation.id}
          planId={open.planId}
          isAgain={open.isAgain}
          timeZone={timeZone}
          currency={currency}
          onClose={close}
          onLinks={() => setOpen({ kind: "links" })}
          onPublished={onPlansChanged}
          onShow={onShow}
        />
      )}
    </section>
  );
}

/** `of`: whatever tells that there may be another one. */
function usePublications(operationId: string, of: string | undefined): readonly Publication[] {
  // biome-ignore lint/correctness/useExhaustiveDependencies: a plan that is published now is told by another publication.
  const asking = useCallback(
    (signal: AbortSignal) =>
      get<{ publications: Publication[] }>(pathOf`/api/operations/${operationId}/publications?limit=${"100"}`, signal),
    [operationId, of],
  );
  return useAsked(asking).value?.publications ?? [];
}
