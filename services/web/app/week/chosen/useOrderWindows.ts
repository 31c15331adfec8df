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
  /** Of an order whose ground near to what the wind may reach has hours of its own. */
  readonly choosePart: (part: OrderWindows["part"]) => void;
  readonly windows: Asked<OrderWindows>;
}

/** What somebody would rather be told, of one order. */
interface Other {
  readonly orderId: string;
  readonly typeId: string | null;
  readonly part: OrderWindows["part"] | null;
}

/** When the chosen order may be worked, by the aircraft that it is planned for or another that is chosen. */
export function useOrderWindows(
  operation: OperationSummary,
  calm: CalmHours | null,
  selected: Selected,
): ChosenWindows {
  const orderId = selected?.kind === "order" ? selected.orderId : null;
  const [other, setOther] = useState<Other | null>(null);
  const planned = calm?.orders.find((one) => one.orderId === orderId);
  const own = other !== null && other.orderId === orderId ? other : null;
  const typeId = own?.typeId ?? planned?.aircraftTypeId ?? null;
  const part = own?.part ?? null;
  const night = planned?.night === true ? "yes" : "no";
  const { id, version } = operation;
  const windows = useAsked(
    // biome-ignore lint/correctness/useExhaustiveDependencies: another version of the operation has other hours.
    useMemo(() => {
      if (orderId === null || typeId === null) return null;
      const path = pathOf`/api/operations/${id}/orders/${orderId}/windows?type=${typeId}&night=${night}`;
      return (signal) => get<OrderWindows>(part === null ? path : `${path}&part=${part}`, signal);
    }, [id, version, orderId, typeId, night, part]),
  );
  return {
    typeId,
    windows,
    chooseType: (chosen) => {
      if (orderId !== null) setOther({ orderId, typeId: chosen, part });
    },
    choosePart: (chosen) => {
      if (orderId !== null) setOther({ orderId, typeId, part: chosen });
    },
  };
}
