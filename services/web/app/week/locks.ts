import { useMemo } from "react";
import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import type { Lock } from "../../../../shared/model/locks.ts";
import type { LockKind } from "../../../../shared/plan/planLocks.ts";
import { get, pathOf } from "../api/call.ts";
import { useAsked } from "../kit/useAsked.ts";

/** What is locked in the operation as it is now, by crew and date. Empty as long as it is not known. */
export type LocksOfWeek = ReadonlyMap<string, Lock>;

export const lockKey = (crewId: string, date: string) => `${crewId} ${date}`;

export function useLocks({ id, version }: OperationSummary): LocksOfWeek {
  const asked = useAsked(
    // biome-ignore lint/correctness/useExhaustiveDependencies: another version may have other locks.
    useMemo(
      () => (signal) => get<{ entries: { entry: Lock }[] }>(pathOf`/api/operations/${id}/locks?limit=${"500"}`, signal),
      [id, version],
    ),
  );
  return useMemo(
    () => new Map(asked.value?.entries.map(({ entry }) => [lockKey(entry.crewId, entry.date), entry])),
    [asked.value],
  );
}

/** What of a crew's day is locked, the most that can be said of it; none: nothing. */
export function kindsOf({ nothingElse, outfit, stops }: Lock): LockKind[] {
  if (nothingElse) return ["asItStands"];
  return [...(stops.length > 0 ? (["stops"] as const) : []), ...(outfit === undefined ? [] : (["outfit"] as const))];
}

/** Whether a stop of the lock's own crew and date may not leave it. A lock of an order without a part is one of all its parts. */
export function isHeld(lock: Lock | null, stop: { readonly orderId: string; readonly part: number }): boolean {
  return (
    lock?.stops.some(({ orderId, part }) => orderId === stop.orderId && (part === undefined || part === stop.part)) ===
    true
  );
}
