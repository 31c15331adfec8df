import { type Path, valueAt } from "../../../../../shared/model/faults.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";

/** Where a kind of thing stands in the operation, and what names one of it: as the resources are, without what judges them. */
export interface ThingKind {
  readonly path: readonly string[];
  /** Paths of the members that make its key, joined by colons. */
  readonly keyMembers: readonly Path[];
}

const byId: readonly Path[] = [["id"]];
const byFeatureId: readonly Path[] = [["properties", "id"]];

/** By their names in addresses. */
export const thingKinds = {
  orders: { path: ["orders"], keyMembers: byId },
  fields: { path: ["fields", "features"], keyMembers: byFeatureId },
  products: { path: ["products"], keyMembers: byId },
  "sensitive-places": { path: ["sensitive", "features"], keyMembers: byFeatureId },
  aircraft: { path: ["fleet", "aircraft"], keyMembers: byId },
  "aircraft-types": { path: ["fleet", "aircraftTypes"], keyMembers: byId },
  "battery-stocks": { path: ["fleet", "batteryStocks"], keyMembers: [["baseId"], ["aircraftTypeId"]] },
  chargers: { path: ["fleet", "chargers"], keyMembers: byId },
  tenders: { path: ["fleet", "tenders"], keyMembers: byId },
  crews: { path: ["fleet", "crews"], keyMembers: byId },
  bases: { path: ["settings", "bases"], keyMembers: byId },
  "water-points": { path: ["settings", "waterPoints"], keyMembers: byId },
} as const satisfies Readonly<Record<string, ThingKind>>;
export type ThingName = keyof typeof thingKinds;
export const isThing = (kind: string): kind is ThingName => Object.hasOwn(thingKinds, kind);

export const keyOf = (kind: ThingName, entry: unknown): string =>
  thingKinds[kind].keyMembers.map((member) => String(valueAt(entry, [...member]) ?? "")).join(":");

export const entriesOf = (kind: ThingName, operation: Operation): readonly unknown[] =>
  valueAt(operation, [...thingKinds[kind].path]) as readonly unknown[];

/** Where the thing stands in the document, or would. */
export function placeOf(kind: ThingName, operation: Operation, key: string): Path {
  const entries = entriesOf(kind, operation);
  const at = entries.findIndex((entry) => keyOf(kind, entry) === key);
  return [...thingKinds[kind].path, at < 0 ? entries.length : at];
}
