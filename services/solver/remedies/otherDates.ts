import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { mostDaysAsked } from "../../../shared/cases/remedyChange.ts";
import { addDaysTo } from "../../../shared/cases/remedyGuard.ts";
import { addDays, createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import { sumOf } from "../../../shared/plan/totals.ts";
import { byGrower, type Candidate, type Wanting } from "./candidate.ts";

/** Questions to the grower, each by as few days as open a minute more for the order than it has: harvest later, earliest earlier, latest later. */
export function otherDates({ operation, orders }: Wanting): Candidate[] {
  return orders.flatMap((order) => {
    const openMin = openMinutes(operation, order);
    const smallest = (make: (days: number) => Asked | null): Candidate[] => {
      for (let days = 1; days <= mostDaysAsked; days++) {
        const asked = make(days);
        if (asked === null) return [];
        if (openMinutes(asked.operation, asked.order) > openMin) return [asked.candidate];
      }
      return [];
    };
    return [
      ...smallest((days) => laterHarvest(operation, order, days)),
      ...smallest((days) => otherOrder(operation, order, { latest: addDaysTo(order.latest, days) })),
      ...smallest((days) => otherOrder(operation, order, { earliest: addDaysTo(order.earliest, -days) })),
    ];
  });
}

interface Asked {
  readonly operation: Operation;
  readonly order: Order;
  readonly candidate: Candidate;
}

function laterHarvest(operation: Operation, order: Order, days: number): Asked | null {
  const { features } = operation.fields;
  const before = features.find(({ properties }) => properties.id === order.fieldId)!.properties.harvestDate;
  if (before === undefined) return null;
  const date = addDays(before, days);
  const asked = features.map((feature) =>
    feature.properties.id === order.fieldId
      ? { ...feature, properties: { ...feature.properties, harvestDate: date } }
      : feature,
  );
  return {
    operation: { ...operation, fields: { ...operation.fields, features: asked } },
    order,
    candidate: byGrower({ kind: "harvestDate", fieldId: order.fieldId, date }),
  };
}

function otherOrder(
  operation: Operation,
  order: Order,
  set: { latest: Order["latest"] } | { earliest: Order["earliest"] },
): Asked {
  const other = { ...order, ...set };
  const orders = operation.orders.map((one) => (one.id === order.id ? other : one));
  return {
    operation: { ...operation, orders },
    order: other,
    candidate: byGrower({ kind: "changeOrder", orderId: order.id, set }),
  };
}

/** Minutes in windows of all types that the operation has, in the plan's days. */
function openMinutes(operation: Operation, order: Order): number {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  if (agronomy.orderLimits(order).length > 0) return 0;
  const { aircraftTypes, aircraft, crews } = operation.fleet;
  const isByNight = crews.some(({ nightWork }) => nightWork);
  const types = aircraftTypes.filter(
    (type) => aircraft.some(({ typeId }) => typeId === type.id) && agronomy.typeLimits(order, type).length === 0,
  );
  return sumOf(types, (type) =>
    sumOf(agronomy.windows(order, type, { night: isByNight }).windows, ({ startMin, endMin }) => endMin - startMin),
  );
}
