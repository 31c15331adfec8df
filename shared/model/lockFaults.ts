import { nested, repeated, unknown } from "./crossReferences.ts";
import type { Fault } from "./faults.ts";
import type { LockedStop } from "./locks.ts";
import type { Located, Parts } from "./parts.ts";

/** Locks that name what is not there, or the same twice. Whether they can hold is the planner's to find out: a plan is made all the same. */
export function lockFaults(parts: Parts): Fault[] {
  const locks = parts.locks.entries;
  const stops = nested(locks, ["stops"], (lock) => lock.stops);
  const outfits = locks.flatMap(({ path, item }) =>
    item.outfit === undefined ? [] : [{ path: [...path, "outfit"], item: item.outfit }],
  );
  const aircraft = nested(outfits, ["aircraftIds"], (outfit) => outfit.aircraftIds ?? []);
  const chargers = nested(outfits, ["chargerIds"], (outfit) => outfit.chargerIds ?? []);
  const sets = nested(outfits, ["batterySets"], (outfit) => outfit.batterySets ?? []);
  const tenders = outfits.flatMap(({ path, item }): Located<string>[] =>
    item.tenderId === undefined ? [] : [{ path: [...path, "tenderId"], item: item.tenderId }],
  );
  const idsOf = <T>(list: readonly Located<T>[], key: string, idOf: (item: T) => string): Located<string>[] =>
    list.map(({ path, item }) => ({ path: [...path, key], item: idOf(item) }));
  return [
    ...unknown(
      idsOf(locks, "crewId", (lock) => lock.crewId),
      parts.crews,
      "a crew",
    ),
    ...unknown(
      idsOf(stops, "orderId", (stop) => stop.orderId),
      parts.orders,
      "an order",
    ),
    ...unknown(aircraft, parts.aircraft, "an aircraft"),
    ...unknown(chargers, parts.chargers, "a charger"),
    ...unknown(tenders, parts.tenders, "a tender"),
    ...unknown(
      idsOf(sets, "aircraftTypeId", (one) => one.aircraftTypeId),
      parts.aircraftTypes,
      "an aircraft type",
    ),
    ...repeated(
      locks.map(({ path, item }) => ({ path: [...path, "date"], item: `${item.crewId} ${item.date}` })),
      "a crew and date",
    ),
    ...outfits.flatMap(({ path, item }) => [
      ...repeated(
        nested([{ path, item }], ["aircraftIds"], (outfit) => outfit.aircraftIds ?? []),
        "an aircraft of this outfit",
      ),
      ...repeated(
        nested([{ path, item }], ["chargerIds"], (outfit) => outfit.chargerIds ?? []),
        "a charger of this outfit",
      ),
    ]),
    ...stopFaults(stops),
    ...partFaults(stops),
  ];
}

/** An order is locked once: whole, or by different parts. */
function stopFaults(stops: readonly Located<LockedStop>[]): Fault[] {
  const whole = new Set(stops.filter(({ item }) => item.part === undefined).map(({ item }) => item.orderId));
  const keys = stops.map(({ path, item }) => {
    const isWhole = whole.has(item.orderId);
    return {
      path: [...path, isWhole ? "orderId" : "part"],
      item: isWhole ? item.orderId : `${item.orderId}#${item.part}`,
    };
  });
  return repeated(keys, "a locked order or part of one");
}

/** A part is one of the parts, and those of one order are of as many. */
function partFaults(stops: readonly Located<LockedStop>[]): Fault[] {
  const first = new Map<string, number>();
  return stops.flatMap(({ path, item: { orderId, part, parts } }): Fault[] => {
    if (parts === undefined) return [];
    const at = [...path, "parts"];
    if (part === undefined || part > parts)
      return [
        {
          path: at,
          value: parts,
          expected: part === undefined ? "nothing where no part is named" : `a number not below part, which is ${part}`,
        },
      ];
    const other = first.get(orderId);
    first.set(orderId, other ?? parts);
    if (other === undefined || other === parts) return [];
    return [{ path: at, value: parts, expected: `${other}, as another lock of ${orderId} has it` }];
  });
}
