import type { Operation } from "../../../../../shared/model/operation.ts";

export interface Dependent {
  /** The kind, as in addresses. */
  readonly kind: string;
  readonly keys: readonly string[];
}

/** Members that name things of a kind. */
const naming: Readonly<Record<string, readonly string[]>> = {
  fields: ["fieldId"],
  products: ["productId"],
  orders: ["orderId"],
  bases: ["baseId", "baseIds", "overnightBaseIds"],
  "aircraft-types": ["typeId", "aircraftTypeId", "ratings"],
  aircraft: ["aircraftIds"],
  tenders: ["tenderId", "like"],
  chargers: ["chargerIds"],
  crews: ["crewId"],
};

function names(value: unknown, members: readonly string[], key: string): boolean {
  if (typeof value !== "object" || value === null) return false;
  return Object.entries(value).some(([member, inner]) => {
    const isNamed = inner === key || (Array.isArray(inner) && inner.includes(key));
    return (members.includes(member) && isNamed) || names(inner, members, key);
  });
}

/** What of the operation names the thing, and so could not stay as it is without it. */
export function hangsOn(operation: Operation, kind: string, key: string): readonly Dependent[] {
  const members = naming[kind] ?? [];
  const { fleet, locks, orders, roads } = operation;
  const keysOf = <T>(entries: readonly T[], keyOf: (entry: T) => string) =>
    entries.filter((entry) => names(entry, members, key)).map(keyOf);
  const isRoadOf = (place: string) => place === key || place.startsWith(`${key}/`);
  const hasRoads = kind === "fields" || kind === "bases" || kind === "water-points";
  const dependents: readonly Dependent[] = [
    { kind: "orders", keys: keysOf(orders, ({ id }) => id).filter((id) => kind !== "orders" || id !== key) },
    {
      kind: "fields",
      keys: kind === "products" ? keysOf(operation.fields.features, ({ properties }) => properties.id) : [],
    },
    { kind: "aircraft", keys: keysOf(fleet.aircraft, ({ id }) => id) },
    { kind: "battery-stocks", keys: keysOf(fleet.batteryStocks, (one) => `${one.baseId}:${one.aircraftTypeId}`) },
    { kind: "chargers", keys: keysOf(fleet.chargers, ({ id }) => id) },
    { kind: "tenders", keys: keysOf(fleet.tenders, ({ id }) => id) },
    { kind: "crews", keys: keysOf(fleet.crews, ({ id }) => id) },
    { kind: "hire", keys: keysOf(fleet.hire ?? [], (offer) => offer.kind) },
    { kind: "locks", keys: keysOf(locks, ({ crewId, date }) => `${crewId}:${date}`) },
    {
      kind: "roads",
      keys: hasRoads
        ? roads.filter(({ from, to }) => isRoadOf(from) || isRoadOf(to)).map(({ from, to }) => `${from} to ${to}`)
        : [],
    },
  ];
  return dependents.filter(({ keys }) => keys.length > 0);
}
