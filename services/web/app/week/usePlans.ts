import { useCallback, useMemo } from "react";
import type { ListedPlan, StoredPlan } from "../../../../shared/contracts/plans.ts";
import { get, pathOf, Refusal } from "../api/call.ts";
import { type Asked, useAsked } from "../kit/useAsked.ts";

export interface PlansOfWeek {
  /** Newest first. */
  readonly plans: readonly ListedPlan[];
  /** The one that is shown; null: there is none yet. */
  readonly shown: ListedPlan | null;
}

/** The plan that is asked for; without one, or where it is of another operation, the one that crews go by, else the newest. */
export function usePlans(operationId: string, planId: string | null): Asked<PlansOfWeek> {
  const listed = useAsked(
    useCallback(
      async (signal: AbortSignal) => {
        const list = (more: string) =>
          get<{ plans: ListedPlan[] }>(`${pathOf`/api/plans?operationId=${operationId}`}${more}`, signal);
        const [{ plans }, published] = await Promise.all([list(""), list("&state=published")]);
        return { plans, byDefault: published.plans[0] ?? plans[0] ?? null };
      },
      [operationId],
    ),
  );
  // The list stays while another of its plans is shown, so that what is on the screen stays, too.
  const ofList = [listed.value?.byDefault, ...(listed.value?.plans ?? [])].find((plan) => plan?.id === planId) ?? null;
  const isOlder = listed.value !== null && planId !== null && ofList === null;
  const older = useAsked(
    useMemo(
      () => (isOlder ? (signal) => olderPlan(planId, operationId, signal) : null),
      [isOlder, planId, operationId],
    ),
  );
  const { again, error, value } = listed;
  const { error: olderError, value: found } = older;
  return useMemo(() => {
    const isWaiting = value === null || (isOlder && found === null);
    const shown = ofList ?? found?.plan ?? value?.byDefault ?? null;
    return { value: isWaiting ? null : { plans: value.plans, shown }, error: error ?? olderError, again };
  }, [value, error, again, isOlder, found, olderError, ofList]);
}

/** One that is no longer among the newest; null: there is none such of this operation. */
async function olderPlan(
  planId: string,
  operationId: string,
  signal: AbortSignal,
): Promise<{ readonly plan: ListedPlan | null }> {
  try {
    const { plan, ...summary } = await get<StoredPlan>(pathOf`/api/plans/${planId}`, signal);
    return { plan: summary.operationId === operationId ? { ...summary, totals: plan.score } : null };
  } catch (error) {
    // A plan that somebody has discarded, or an address that was typed wrongly.
    if (error instanceof Refusal && (error.status === 404 || error.status === 422)) return { plan: null };
    throw error;
  }
}
