import { areaM2 } from "../geo/area.ts";
import { planeOf, toAreaXY } from "../geo/convert.ts";
import type { AreaGeometry } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import { haFromM2 } from "../units/units.ts";
import { type HazardOnMap, hazardsOnMap } from "./hazards.ts";
import {
  type Bounds,
  basesAndWater,
  boundsOf,
  type PlaceOnMap,
  positionsOf,
  type SensitiveOnMap,
  sensitiveOnMap,
} from "./mapPlaces.ts";
import type { Plan } from "./plan.ts";
import { groupBy, type Stop, stopsOf } from "./totals.ts";

export interface FieldOnMap {
  readonly fieldId: string;
  readonly name: string;
  readonly grower: string;
  readonly crop: string;
  /** Of the field itself, whatever of it is treated. */
  readonly areaHa: number;
  readonly geometry: AreaGeometry;
  /** Of all its orders together. */
  readonly status: "planned" | "partly" | "notPlanned" | "noOrder";
  readonly orders: readonly string[];
  /** On which a block of it is worked, in order of time. */
  readonly crewDays: readonly { readonly crewId: string; readonly date: string }[];
}

export interface WeekMap {
  readonly fields: readonly FieldOnMap[];
  readonly places: readonly PlaceOnMap[];
  readonly sensitive: readonly SensitiveOnMap[];
  readonly hazards: readonly HazardOnMap[];
  readonly bounds: Bounds;
}

export function weekMap(operation: Operation, plan: Pick<Plan, "blocks" | "crewDays">): WeekMap {
  const ordersOf = groupBy(operation.orders, (order) => order.fieldId);
  const blocksOf = groupBy(plan.blocks, (block) => block.orderId);
  const stopsOfOrder = groupBy(stopsOf(plan), (stop) => stop.block.orderId);
  const fields = operation.fields.features.map(({ geometry, properties }): FieldOnMap => {
    const { id, name, grower, crop } = properties;
    const orders = (ordersOf.get(id) ?? []).map((order) => order.id);
    const stops = orders
      .flatMap((order) => stopsOfOrder.get(order) ?? [])
      .sort((a, b) => a.work.startMin - b.work.startMin);
    const blocks = orders.flatMap((order) => blocksOf.get(order) ?? []).length;
    const areBlocksForAll = orders.every((order) => blocksOf.has(order));
    return {
      fieldId: id,
      name,
      grower,
      crop,
      areaHa: haFromM2(areaM2(toAreaXY(planeOf(geometry), geometry))),
      geometry,
      status: statusOf(orders.length, stops.length, areBlocksForAll && stops.length === blocks),
      orders,
      crewDays: crewDaysOf(stops),
    };
  });
  const places = basesAndWater(operation);
  const sensitive = operation.sensitive.features.map(sensitiveOnMap);
  const hazards = operation.fields.features.flatMap(hazardsOnMap);
  const positions = [
    ...fields.flatMap(({ geometry }) => positionsOf(geometry)),
    ...places.map(({ at }) => at),
    ...sensitive.flatMap(({ geometry }) => positionsOf(geometry)),
    ...hazards.flatMap(({ geometry }) => positionsOf(geometry)),
  ];
  return { fields, places, sensitive, hazards, bounds: boundsOf(positions) };
}

function statusOf(orders: number, stops: number, isAll: boolean): FieldOnMap["status"] {
  if (orders === 0) return "noOrder";
  if (stops === 0) return "notPlanned";
  return isAll ? "planned" : "partly";
}

function crewDaysOf(stops: readonly Stop[]): FieldOnMap["crewDays"] {
  const days = stops.map(({ crewDay: { crewId, date } }) => ({ crewId, date }));
  return [...new Map(days.map((day) => [`${day.crewId} ${day.date}`, day])).values()];
}
