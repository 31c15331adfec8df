import { valueAt } from "../../../../../shared/model/faults.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { type Draft, stepsOf } from "./draft.ts";

/** What stands in the operation now at the place of a field that changes it, or of what is to be like it; undefined where nothing does. */
export function presentValue({ fleet, orders, settings }: Operation, change: Draft, path: string): unknown {
  if (change.kind === "changeSettings") return valueAt(settings, stepsOf(path));
  if (!path.startsWith("set.")) return undefined;
  const id = change.crewId ?? change.typeId ?? change.orderId ?? change.like;
  const things: readonly { readonly id: string }[] = [
    ...fleet.crews,
    ...fleet.aircraftTypes,
    ...fleet.tenders,
    ...orders,
  ].filter((one) => one.id === id);
  return things[0] && valueAt(things[0], stepsOf(path).slice(1));
}
