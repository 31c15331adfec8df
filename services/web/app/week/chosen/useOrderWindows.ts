import { useMemo, useState } from "react";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { OrderWindows } from "../../../../../shared/contracts/windows.ts";
import type { CalmHours } from "../../../../../shared/plan/calmHours.ts";
import { get, pathOf } from "../../api/call.ts";
import { type Asked, useAsked } from "../../kit/useAsked.ts";
import type { Selected } from "../selected.ts";

export interface ChosenWindows {
  /** The kind of aircraft by which the hours are told; null: no order is chosen, or none may work it. */
  readonly typeId: string | null;
  readonly chooseType: (typeId: string) => void;
  readonly windows: Asked<OrderWindows>;
}

/** When the chosen order may be worked, by the aircraft that it is planned for or another that is chosen. */
export function useOrderWindows(
  operation: OperationSummary,
  calm: CalmHours | null,
  selected: Selected,
): ChosenWindows {
  const orderId = selected?.kind === "order" ? selected.orderId : null;
  const [other, setOther] = useState<{ readonly orderId: string; readonly typeId: string } | null>(null);
  const planned = calm?.orders.find((one) => one.orderId === orderId);
  const typeId = other !== null && other.orderId === orderId ? other.typeId : (planned?.aircraftTypeId ?? null);
  const night = planned?.night === true ? "yes" : "no";
  const { id, version } = operation;
  const windows = useAsked(
    // biome-ignore lint/correctness/useExhaustiveDependencies: another version of the operation has other hours.
    useMemo(() => {
      if (orderId === null || typeId === null) return null;
      const path = pathOf`/api/operations/${id}/orders/${orderId}/windows?type=${typeId}&night=${night}`;
      return (signal) => get<OrderWindows>(path, signal);
    }, [id, version, orderId, typeId, night]),
  );
  return {
    typeId,
    windows,
    chooseType: (chosen) => {
      if (orderId !== null) setOther({ orderId, typeId: chosen });
    },
  };
}
