import { useMemo } from "react";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { get, pathOf } from "../api/call.ts";
import { type Asked, useAsked } from "../kit/useAsked.ts";
import { usePlans } from "../week/usePlans.ts";

export interface ShownWeek {
  /** Null: there is no plan yet. */
  readonly week: WeekView | null;
  readonly planId: string | null;
}

/** The week of the plan that crews go by, else of the newest. */
export function useShownWeek(operationId: string): Asked<ShownWeek> {
  const plans = usePlans(operationId, null);
  const planId = plans.value?.shown?.id ?? null;
  const isKnown = plans.value !== null;
  const asked = useAsked<ShownWeek>(
    useMemo(() => {
      if (!isKnown) return null;
      if (planId === null) return async () => ({ week: null, planId });
      return async (signal: AbortSignal) => ({
        week: await get<WeekView>(pathOf`/api/plans/${planId}/week`, signal),
        planId,
      });
    }, [isKnown, planId]),
  );
  const { again, error } = plans;
  return useMemo(
    () => ({ value: asked.value, error: error ?? asked.error, again }),
    [asked.value, asked.error, error, again],
  );
}
