import type { Operation } from "../model/operation.ts";

/**
 * All of an operation that no remedy may touch: what protects people, crops and neighbours, and what the office has settled. What is left out is what remedies do change: shifts, where things
 * stand, an order's dates, products and splitting, a field's harvest date and pads.
 */
export function whatBinds({ settings, fields, sensitive, products, orders, fleet, weather, roads, locks }: Operation) {
  return {
    settings,
    sensitive,
    products,
    weather,
    roads,
    locks,
    fields: fields.features.map(({ geometry, properties: { harvestDate, pads, ...rest } }) => ({ geometry, rest })),
    orders: orders.map(({ earliest, latest, maySplit, products: mix, carrierLPerHa, ...rest }) => rest),
    aircraftTypes: fleet.aircraftTypes,
    crews: fleet.crews.map(({ shifts, ...rest }) => rest),
    outOfService: fleet.aircraft
      .filter(({ outOfService }) => outOfService.length > 0)
      .map(({ id, outOfService }) => ({ id, outOfService })),
    hire: fleet.hire ?? [],
  };
}

/** Byte for byte. */
export function bindsAlike(before: Operation, after: Operation): boolean {
  return JSON.stringify(whatBinds(before)) === JSON.stringify(whatBinds(after));
}
