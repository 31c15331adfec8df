import type { Agronomy } from "../agronomy/agronomy.ts";
import { totalMin, union } from "../agronomy/intervals.ts";
import type { Operation } from "../model/operation.ts";
import { hoursOf } from "../plan/totals.ts";
import { meanOf } from "../statistics/moments.ts";

/** Hours of the days in which an order may be worked by some aircraft that there is, without night work: mean over the orders that one of them may do at all; none where there are none. */
export function openHoursPerOrder({ fleet, orders }: Operation, agronomy: Agronomy): number {
  const isThere = new Set(fleet.aircraft.map(({ typeId }) => typeId));
  const types = fleet.aircraftTypes.filter(({ id }) => isThere.has(id));
  const hours = orders.flatMap((order) => {
    if (agronomy.orderLimits(order).length > 0) return [];
    const able = types.filter((type) => agronomy.typeLimits(order, type).length === 0);
    const open = able.flatMap((type) => agronomy.windows(order, type, { night: false }).windows);
    return able.length === 0 ? [] : [hoursOf(totalMin(union(open)))];
  });
  return hours.length === 0 ? 0 : meanOf(hours);
}
